/** What the Chair asks of the server: pieces at work, their steps, and what was done, as events. */

import { answer, fileForm, json, sent } from './client';
import { sceneOf, type Scene, type Vec3 } from './scene';

export interface PieceCard {
  id: string;
  name: string;
  design: string;
  revision: number;
  around_mm: number;
  picture: string;
  steps: number;
  done: number;
  hours: number;
  last: string | null;
  away?: boolean;
}

/** One movement of the hand. */
export interface HandStep {
  n: number;
  part: 'base' | 'marking' | 'layer' | 'finish';
  layer?: number | null;
  motif?: number | null;
  of_motifs?: number | null;
  row?: number | null;
  of_rows?: number | null;
  lap?: number | null;
  of_laps?: number | null;
  bite?: number | null;
  of_bites?: number | null;
  thread?: string | null;
  say: string;
  more?: string | null;
  at: string;
  from?: string | null;
  mm?: number | null;
  strip?: string | null;
  under: string[];
  over: string[];
  eye_first: boolean;
  xyz?: Vec3 | null;
  row_index?: number | null;
  arcs?: readonly [number, number] | null;
  join?: 'begin' | 'end' | null;
}

export interface LayerCount {
  name: string;
  first: number;
  steps: number;
}

interface Happened {
  id: string;
  device: string;
  seq: number;
  clock: number;
  at: string;
}

/** What she did, without where and when. */
export type Deed =
  | { kind: 'next'; step: number }
  | { kind: 'back'; step: number }
  | { kind: 'jump'; to: number; between: 'done' | 'as is' }
  | { kind: 'unpick'; to: number }
  | { kind: 'note'; step: number; text: string; photo?: string | null }
  | { kind: 'differently'; step: number; text: string }
  | { kind: 'ran_out'; step: number; thread: string }
  | { kind: 'pins'; what: 'in' | 'out' | 'count'; n: number; when?: string }
  | { kind: 'sit'; what: 'start' | 'stop' | 'beat' }
  | { kind: 'hours'; sitting: string; minutes: number }
  | { kind: 'setting'; name: string; value: unknown }
  | { kind: 'replan'; revision: number; kept?: number };

export type ChairEvent = Happened & Deed;

export interface Note {
  id: string;
  step: number;
  kind: 'note' | 'differently' | 'ran_out' | 'unpick';
  text: string;
  photo: string | null;
  thread: string | null;
  at: string;
}

export interface Sitting {
  id: string;
  device: string;
  began: string;
  last: string;
  seconds: number;
  open: boolean;
  minutes: number | null;
}

/** What all events together come to. */
export interface ChairState {
  clock: number;
  place: number;
  /** Steps done as ranges [from, to), rising and apart. */
  done: [number, number][];
  notes: Note[];
  pins: { in: number; out: number; counts: { n: number; when: string; at: string }[] };
  sittings: Sitting[];
  settings: Record<string, unknown>;
  revision: number | null;
}

export interface PieceOpened {
  piece: PieceCard;
  counts: { steps: number; layers: LayerCount[] };
  threads: { name: string; colour: string; metallic?: boolean }[];
  state: ChairState;
}

export interface PieceTime {
  sittings: Sitting[];
  hours: number;
  left: { low: number; likely: number; high: number } | null;
}

export interface NewPiece {
  design: string;
  revision?: number;
  around?: string;
  measured?: { pole_to_pole: string[]; obi: string[] };
  name: string;
}

export interface Replan {
  words: string[];
  kept: number;
  new: number;
}

export interface Lan {
  on: boolean;
  addresses: string[];
  code: string | null;
  code_until: string | null;
  qr: string | null;
  /** Fingerprint of the studio's own certificate. */
  authority: string | null;
  devices: { id: string; name: string; paired: string; seen: string | null }[];
}

export const pieces = () => json<{ pieces: PieceCard[] }>('/pieces');
export const begun = (wanted: NewPiece) => json<PieceOpened>('/pieces', sent('POST', wanted));
export const piece = (id: string) => json<PieceOpened>(`/pieces/${id}`);
export const steps = (id: string, from: number, count: number) =>
  json<{ steps: HandStep[] }>(`/pieces/${id}/steps?from=${from}&count=${count}`);
export const pieceScene = async (id: string): Promise<Scene> =>
  sceneOf(await (await answer(`/pieces/${id}/scene`)).arrayBuffer());

export const told = (id: string, events: readonly ChairEvent[]) =>
  json<{ accepted: string[]; clock: number; state: ChairState }>(`/pieces/${id}/events`, sent('POST', { events }));

export const time = (id: string) => json<PieceTime>(`/pieces/${id}/time`);
export const photographed = (id: string, photo: File) =>
  json<{ photo: string }>(`/pieces/${id}/photos`, fileForm(photo, photo.name));
export const photoAddress = (id: string, photo: string) => `/api/pieces/${id}/photos/${photo}`;
export const replanned = (id: string, revision: number, apply: boolean) =>
  json<Replan>(`/pieces/${id}/replan`, sent('POST', { revision, apply }));

export const lan = () => json<Lan>('/lan');
export const paired = (code: string, name: string) => json<unknown>('/lan/pair', sent('POST', { code, name }));
export const AUTHORITY = '/api/lan/authority.crt';
export const revoked = (id: string) => answer(`/lan/devices/${id}`, { method: 'DELETE' });
