/** What colour plans ask of the server: what can be planned, the best dozen, one of them put in, shades. */

import { json, sent, type Job } from './client';
import type { DesignDocument, ThreadSpec } from './design';

export type By = 'motifs' | 'stripes' | 'rows' | 'layers';
export type Order = 'apart' | 'contrast' | 'graded';
export type Opposite = 'any' | 'same' | 'differ';

export interface LayerParts {
  name: string;
  motifs: number;
  stripes: number;
  rows: number;
  /** The one with most rows first. */
  threads: string[];
}

export interface WishedThread {
  name: string;
  least: number;
  most?: number;
  new?: ThreadSpec;
}

export interface Wishes {
  by: By;
  layer: string;
  threads: WishedThread[];
  order: Order;
  neighbours_differ: boolean;
  opposite: Opposite;
  mirrors: boolean;
  instead_of: string;
}

export interface Plan {
  name: string | null;
  said: string;
  threads: { name: string; colour: string; where: string[]; said: string; ground_contrast: number }[];
  notes: string[];
  /** Pictures as data addresses. */
  front: string;
  back: string;
}

export interface Dozen {
  different: number | null;
  proven: boolean;
  said: string;
  notes: string[];
  plans: Plan[];
}

export interface Shade {
  colour: string;
  nearest: { id: string; name: string; colour: string } | null;
  difference: number | null;
}

export const parts = (document: DesignDocument) =>
  json<{ layers: LayerParts[] }>('/plans/parts', sent('POST', { document }));

export const begun = (document: DesignDocument, wishes: Wishes, file: 'page' | 'pdf', paper: 'a4' | 'letter' = 'a4') =>
  json<{ job: string }>('/plans', sent('POST', { document, wishes, file, paper }));

export const dozen = (job: string) => json<Dozen>(`/jobs/${job}/file`);

export const applied = (document: DesignDocument, wishes: Wishes, plan: number) =>
  json<{ document: DesignDocument; changed: number; said: string[] }>(
    '/plans/applied',
    sent('POST', { document, wishes, plan }),
  );

export const shades = (ends: string[], count: number) =>
  json<{ shades: Shade[] }>('/shades', sent('POST', { ends, count }));

export type { Job };
