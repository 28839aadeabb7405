/** What classes ask of the server: the list, one class as it is typed, what it comes to, its papers. */

import type { HandStep } from './chair';
import { json, sent } from './client';
import type { Wrong } from './scene';

export interface ClassCard {
  id: string;
  title: string;
  design: string | null;
  design_name: string | null;
  picture: string | null;
  students: number | null;
  when: string;
  number: number;
  changed: string;
  away: boolean;
}

export interface Student {
  name?: string;
  around?: string;
}

/** A class as its teacher wrote it; what is left out is as usual. */
export interface ClassWords {
  format: 1;
  title: string;
  design?: string;
  level?: string;
  when?: string;
  place?: string;
  teacher?: string;
  goals?: string;
  students?: number;
  named?: Student[];
  left_handed?: number;
  spares?: string;
  sessions?: { minutes: number; title?: string }[];
  prepared?: { base?: boolean; pins?: boolean; marking?: boolean };
  pace?: number;
  talk?: number;
  cut_spare?: number;
  core?: 'hulls' | 'foam' | 'soft' | 'wadding';
  notes?: string;
}

export interface OpenedClass {
  card: ClassCard;
  document: ClassWords;
  wrong: Wrong | null;
}

export interface Minutes {
  low: number;
  likely: number;
  high: number;
}

export interface Stage {
  kind: 'base' | 'pins' | 'marking' | 'layer' | 'finish';
  title: string;
  minutes: Minutes;
  prepared: boolean;
}

export interface Meeting {
  title: string;
  minutes: number;
  talk: number;
  bars: { stage: number; start: number; minutes: number }[];
  stop: string;
}

export interface KitLine {
  group: 'base' | 'thread' | 'tools' | 'paper';
  what: string;
  count: number | null;
  amount: string;
  note: string;
  colour: string;
}

export interface Bundle {
  around_mm: number;
  for: number[];
  threads: { name: string; colour: string; said: string; cuts: { count: number; said: string }[] }[];
}

export interface Moment {
  kind: string;
  title: string;
  step: number;
  say: string;
}

export interface Told {
  design: string;
  around_mm: number;
  minutes: { available: number; needed: Minutes };
  verdict: string;
  reach: Record<keyof Minutes, { after: string; left: number }>;
  remedies: { sentence: string }[];
  stages: Stage[];
  sessions: Meeting[];
  kit: KitLine[];
  seats: { number: number; name: string; around_mm: number; measured: boolean; changes: string[] }[];
  bundles: Bundle[];
  demonstration: Moment[];
  cautions: string[];
}

export type ShownStep = HandStep & { colour: string | null };
export type Hand = 'right' | 'left';

export interface Worked {
  told: Told;
  steps: Partial<Record<Hand, ShownStep[]>>;
}

export type PaperKind = 'handout' | 'kit-list' | 'cut-list' | 'strips' | 'lesson-plan';

export const classes = (away: boolean) => json<{ classes: ClassCard[] }>(`/classes?away=${away}`);
export const begunClass = (design: string, title: string) =>
  json<OpenedClass>('/classes', sent('POST', { design, title }));
export const demoClass = () => json<OpenedClass>('/classes/demo', sent('POST', {}));
export const openedClass = (id: string) => json<OpenedClass>(`/classes/${id}`);
export const savedClass = (id: string, document: ClassWords, number: number) =>
  json<OpenedClass>(`/classes/${id}`, sent('PUT', { document, number }));
export const putClassAway = (id: string, away: boolean) => json<ClassCard>(`/classes/${id}`, sent('PATCH', { away }));
export const worked = (id: string) => json<Worked>(`/classes/${id}/worked`);
export const begunPaper = (id: string, kind: PaperKind, paper: 'a4' | 'letter') =>
  json<{ job: string }>(`/classes/${id}/papers`, sent('POST', { kind, paper }));
