/** What the winding page asks of the server: materials, the plan, its sheet, roundness, and the log. */

import { answer, fileForm, json, sent } from './client';
import type { DesignDocument } from './design';
import type { components } from './design.gen';

type Said = components['schemas'];
export type Materials = Said['Materials'];
export type Stuff = Said['Stuff'];
export type Plan = Said['WindingTold'];
export type Stop = Said['StopTold'];
export type Roundness = Said['RoundnessTold'];
export type Log = Said['WoundLog'];
export type Entry = Said['WoundEntry'];
export type Span = Said['SpanTold'];

/** What the base is made of, as her form says it; lengths and amounts in her own words. */
export interface Parts {
  core: string;
  core_around: string;
  noise: string;
  wraps: { name: string; amount: string }[];
  to_size: boolean;
}

export interface Readings {
  pole_to_pole: string[];
  obi: string[];
  off_by: string;
}

export interface NewEntry {
  material: string;
  before: string;
  after: string;
  grams: string;
  metres: string;
  note: string;
}

export const materials = () => json<Materials>('/winding/materials');

export const planned = (document: DesignDocument, parts: Parts, signal: AbortSignal) =>
  json<Plan>('/winding', sent('POST', { document, ...parts }, signal));

export async function sheet(document: DesignDocument, parts: Parts, paper: 'a4' | 'letter'): Promise<Blob> {
  return (await answer('/winding/sheet', sent('POST', { document, ...parts, paper }))).blob();
}

export const roundness = (document: DesignDocument, readings: Readings) =>
  json<Roundness>('/roundness', sent('POST', { document, ...readings }));

export const WOUND_CSV = '/api/wound.csv';

export const log = (away = false) => json<Log>(`/wound?away=${away}`);
export const added = (words: NewEntry) => json<Entry>('/wound', sent('POST', words));
export const putAway = (id: string, away: boolean) => json<Entry>(`/wound/${id}`, sent('PATCH', { away }));
export const taken = (file: File) => json<{ added: number }>('/wound/csv', fileForm(file, file.name));
