/** What the pin survey asks of the server: her readings, what they tell, which distances to measure. */

import { fileForm, json, sent } from './client';
import type { DesignDocument } from './design';
import type { components } from './design.gen';

type Said = components['schemas'];
export type Surveyed = Said['Surveyed'];
export type SurveyedPin = Said['SurveyedPin'];
export type PinMove = Said['PinMove'];
export type JudgedReading = Said['JudgedReading'];
export type AskedDistance = Said['AskedDistance'];

/** One distance as she wrote it. */
export interface KeptReading {
  first: string;
  second: string;
  length: string;
  via: string;
  /** From before a pin moved: kept, and counted no more. */
  aside: boolean;
}

/** Her readings in order, the moves she has made by their sentences, and how sure one reading is. */
export interface KeptSurvey {
  readings: KeptReading[];
  made: string[];
  off_by_mm: number;
}

export interface Kept {
  number: number;
  survey: KeptSurvey;
}

export const keptSurvey = (id: string) => json<Kept>(`/designs/${id}/survey`);

export const keepSurvey = (id: string, base: number, survey: KeptSurvey) =>
  json<Kept>(`/designs/${id}/survey`, sent('PUT', { base, survey }));

export const surveyed = (document: DesignDocument, survey: KeptSurvey, question: number, tab: string) =>
  json<Surveyed>('/survey', sent('POST', { document, survey, question, tab }));

export const distances = (document: DesignDocument) =>
  json<{ distances: AskedDistance[] }>('/survey/distances', sent('POST', { document }));

/** Readings of a table, looked at and not kept. */
export const tableRead = (file: Blob, name: string) =>
  json<{ readings: KeptReading[] }>('/survey/csv', fileForm(file, name));

export type SurveyFile = 'survey.csv' | 'survey.pdf' | 'survey-form.csv' | 'survey-form.pdf';

export const surveyFile = (id: string, file: SurveyFile) => `/api/designs/${id}/${file}`;
