/** What the studio's server answers: one function an address. A newer question cancels the one it replaces. */

import type { ChosenSpec, DesignDocument } from './design';
import type { components } from './design.gen';
import { sceneOf, type Scene, type Vec3, type Wrong } from './scene';

type Said = components['schemas'];
export type Card = Said['Card'];
export type Revision = Said['RevisionEntry'];
export type Division = Said['DivisionEntry'];
export type Backup = Said['Backup'];
export type Job = Said['JobReport'];
export type JobKind = Said['NewJob']['kind'];
export type JobOptions = Partial<Said['JobOptions']>;
export type Pin = Said['Pin'];
export type Amount = Said['Amount'];

export interface Remedy {
  path: string;
  value: unknown;
}

/** One thing to know, to decide or to change; `xyz` is where on the ball. */
export type Finding = Omit<Said['Finding'], 'remedy' | 'xyz'> & { remedy: Remedy | null; xyz: Vec3 | null };
export type Figures = Omit<Said['Figures'], 'findings'> & { findings: Finding[] };

export type Spot = Said['Spot'];
export type Crossing = Omit<Said['Crossing'], 'choice'> & { choice: Omit<ChosenSpec, 'at'> };
export type FoundCrossing = Omit<Said['FoundCrossing'], 'crossing'> & { crossing: Crossing | null };

/** One technique, with the JSON Schema its form is drawn from. */
export interface Technique {
  name: string;
  title: string;
  sentence: string;
  place: 'centre' | 'arc' | 'circle' | 'poles' | 'ball';
  schema: FormSchema;
  example: { division?: string; where?: string; rows?: string; params?: Record<string, unknown> };
  where: string[];
}

export interface FieldSchema {
  type?: string | string[];
  title?: string;
  description?: string;
  default?: unknown;
  enum?: unknown[];
  const?: unknown;
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  exclusiveMaximum?: number;
  pattern?: string;
  examples?: unknown[];
  anyOf?: FieldSchema[];
  $ref?: string;
  unit?: string;
}

export interface FormSchema {
  description?: string;
  properties?: Record<string, FieldSchema>;
  required?: string[];
  $defs?: Record<string, FieldSchema>;
}

/** The server said no, in one sentence. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly wrong: Wrong,
    readonly body: Record<string, unknown> = {},
  ) {
    super(wrong.what);
  }
}

/** The server cannot be reached at all. */
export class Away extends Error {}

/** What happens where the studio does not know this device; the page sets it. */
export const door = { unknown: (): void => {} };

const newest = new Map<string, AbortController>();

/** Cancels the request of the same name that is still out, and gives the signal for this one. */
function replacing(name: string): AbortSignal {
  newest.get(name)?.abort();
  const controller = new AbortController();
  newest.set(name, controller);
  return controller.signal;
}

async function answer(path: string, init: RequestInit = {}): Promise<Response> {
  let response: Response;
  try {
    response = await fetch(`/api${path}`, init);
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error;
    throw new Away('The studio does not answer. Your work is kept here; it goes on when the studio is back.');
  }
  if (response.ok) return response;
  if (response.status === 401) door.unknown();
  throw await refused(response);
}

async function refused(response: Response): Promise<Error> {
  const plain: Wrong = { where: '', what: `The studio could not do this (${response.status}).` };
  if (response.status >= 502 && response.status <= 504) return new Away('The studio does not answer.');
  try {
    const body = (await response.json()) as Record<string, unknown>;
    const said = typeof body['what'] === 'string' ? body : (body['detail'] as Record<string, unknown>);
    const what = typeof said?.['what'] === 'string' ? said['what'] : plain.what;
    return new Refused(response.status, { where: String(said?.['where'] ?? ''), what }, body);
  } catch {
    return new Refused(response.status, plain);
  }
}

async function json<T>(path: string, init?: RequestInit): Promise<T> {
  return (await (await answer(path, init)).json()) as T;
}

function sent(method: string, body: unknown, signal?: AbortSignal): RequestInit {
  const init: RequestInit = {
    method,
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  };
  if (signal) init.signal = signal;
  return init;
}

function fileForm(file: Blob, name: string): RequestInit {
  const form = new FormData();
  form.append('file', file, name);
  return { method: 'POST', body: form };
}

/** Whether `error` only says that a newer question took this one's place. */
export function superseded(error: unknown): boolean {
  if (error instanceof DOMException && error.name === 'AbortError') return true;
  return error instanceof Refused && error.status === 409 && error.body['kept_as'] === undefined;
}

export interface ShelfQuestion {
  search: string;
  tag: string;
  sort: 'changed' | 'name' | 'around';
  away: boolean;
  count: number;
}

export const shelf = (q: ShelfQuestion) =>
  json<Said['Shelf']>(`/designs?${new URLSearchParams({ ...q, away: String(q.away), count: String(q.count) })}`, {
    signal: replacing('shelf'),
  });

export type NewDesign =
  | { from: 'example'; example: string }
  | { from: 'family'; family: string; around?: string; division?: string }
  | { from: 'empty'; around?: string }
  | { from: 'copy'; copy_of: string; revision?: number };

export const created = (wanted: NewDesign) => json<Card>('/designs', sent('POST', wanted));

export const imported = (file: File) => json<Card>('/designs/import', fileForm(file, file.name));

export const opened = (id: string) => json<{ card: Card; document: DesignDocument; base: number }>(`/designs/${id}`);

export interface Save {
  base: number;
  document: DesignDocument;
  tab: string;
  label?: string;
}

export const saved = (id: string, save: Save) => json<{ revision: number }>(`/designs/${id}`, sent('PUT', save));

export const changedCard = (id: string, change: { tags?: string[]; away?: boolean }) =>
  json<Card>(`/designs/${id}`, sent('PATCH', change));

export const revisions = (id: string) => json<{ revisions: Revision[] }>(`/designs/${id}/revisions`);

export const revision = (id: string, n: number) => json<{ document: DesignDocument }>(`/designs/${id}/revisions/${n}`);

export const named = (id: string, n: number, label: string) =>
  answer(`/designs/${id}/revisions/${n}`, sent('PATCH', { label }));

export const pictureAddress = (id: string, rev: number, size = 480, facing = 'N') =>
  `/api/designs/${id}/picture.png?${new URLSearchParams({ r: String(rev), size: String(size), facing })}`;

export const documentAddress = (id: string) => `/api/designs/${id}/document.json`;

export const ARCHIVE = '/api/archive.zip';

export const archived = (file: File) => json<{ added: number; already: number }>('/archive', fileForm(file, file.name));

export const backups = () => json<{ backups: Backup[] }>('/backups');

export const restored = (name: string) => answer(`/backups/${encodeURIComponent(name)}/restore`, { method: 'POST' });

/** The scene of `document`; rejects with `superseded` where a newer question was asked meanwhile. */
export async function built(document: DesignDocument, question: number, tab: string): Promise<Scene> {
  const response = await answer('/build', sent('POST', { document, question, tab }, replacing('build')));
  return sceneOf(await response.arrayBuffer());
}

/** The scene of a document that is only tried; it cancels nothing. */
export async function tried(document: DesignDocument, tab: string, signal: AbortSignal): Promise<Scene> {
  const response = await answer('/build', sent('POST', { document, question: Date.now(), tab }, signal));
  return sceneOf(await response.arrayBuffer());
}

/** Findings, thread, hours, cover and pins of `document`. */
export const figures = (document: DesignDocument, question: number, tab: string) =>
  json<Figures>('/figures', sent('POST', { document, question, tab }, replacing('figures')));

export const techniques = (division: string) => json<Technique[]>(`/techniques?${new URLSearchParams({ division })}`);

export type Family = Said['FamilyEntry'];
export const families = () => json<Family[]>('/families');
export const familyPicture = (name: string) => `/api/families/${name}/picture.png?size=320`;

/** The same look on a ball of another size, and what changes in words. */
export const replanned = (document: DesignDocument, around: string) =>
  json<{ document: DesignDocument; changes: string[] }>('/another-size', sent('POST', { document, around }));

export type Wish = Omit<Said['Wish'], 'other' | 'gap' | 'at'> & { gap?: string; at?: string };
export interface FitFound {
  layer: string;
  change: string;
  from: string;
  to: string;
  residual_mm: number;
  exact: boolean;
  sentence: string;
  /** What else makes the wish come true, where this does not. */
  offers: string[];
}

/** What to change so that a wish comes true; the document comes back changed. */
export const fitted = (document: DesignDocument, wish: Wish) =>
  json<{ document: DesignDocument; found: FitFound[] }>('/fit', sent('POST', { document, wishes: [wish] }));

export const divisions = () => json<Division[]>('/divisions');

export const division = (name: string, around: string) =>
  json<Record<string, unknown>>(`/divisions/${encodeURIComponent(name)}?${new URLSearchParams({ around })}`);

/** The spot a touch means, and where each of `named` lies. */
export const spots = (document: DesignDocument, near: Vec3 | null, named: readonly string[] = []) =>
  json<Said['Spots']>('/spots', sent('POST', { document, near, named }));

/** A layer's words for where it is worked, with `point` more, or less where it is named. */
export const where = async (document: DesignDocument, layer: number, point: string) =>
  (await json<Said['Where']>('/where', sent('POST', { document, layer, point }))).where;

/** The crossing a touch means, and every crossing that rules leave open or contradict. */
export const crossing = (document: DesignDocument, near: Vec3 | null) =>
  json<FoundCrossing>('/crossing', sent('POST', { document, near }));

/** A PNG of any document, as a Blob. */
export async function look(document: DesignDocument, size: number, facing: string, signal?: AbortSignal) {
  const query = new URLSearchParams({ size: String(size), facing });
  return (await answer(`/look?${query}`, sent('POST', { document }, signal))).blob();
}

export const begun = (kind: JobKind, document: DesignDocument, options: JobOptions) =>
  json<{ job: string }>('/jobs', sent('POST', { kind, document, options }));

export const job = (id: string) => json<Job>(`/jobs/${id}`);

export const stopped = (id: string) => answer(`/jobs/${id}`, { method: 'DELETE' });

export const jobFile = (id: string) => `/api/jobs/${id}/file`;

export const palette = (photo: File) => json<{ colours: string[] }>('/palette', fileForm(photo, photo.name));

export const health = () => json<{ version: string; data: string }>('/health');

export { answer, fileForm, json, sent };
