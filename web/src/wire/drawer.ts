/** What the Drawer asks of the server: threads she owns or wants, what designs take, and CSV. */

import { answer, fileForm, json, sent } from './client';

export interface Thread {
  id: string;
  name: string;
  fibre: string;
  size: string;
  colour: string;
  rows_per_cm: number | null;
  skein_mm: number | null;
  left_mm: number;
  price: number | null;
  currency: string | null;
  shelf: string | null;
  lot: string | null;
  note: string | null;
  away: boolean;
  changed: string;
}

/** What she writes about a thread; what is left out stays as it is. */
export type ThreadWords = Partial<Omit<Thread, 'id' | 'away' | 'changed'>>;

export interface Need {
  name: string;
  colour: string;
  /** The thread in the drawer it is taken from; none: nothing there is called so. */
  thread: string | null;
  needed_mm: { low: number; likely: number; high: number };
  left_mm: number;
  short_mm: number;
  skeins: number | null;
  skein_mm?: number | null;
  price?: number | null;
  currency?: string | null;
  nearest: { id: string; name: string; colour: string; difference: number } | null;
  designs: string[];
}

export interface CsvRow extends ThreadWords {
  name: string;
  action: 'add' | 'change' | 'same';
}

export interface CsvLook {
  read: CsvRow[];
  wrong: { line: number; column: string | null; what: string }[];
}

export const THREADS_CSV = '/api/threads.csv';

export const threads = (away = false) => json<{ threads: Thread[] }>(`/threads?away=${away}`);
export const added = (words: ThreadWords) => json<Thread>('/threads', sent('POST', words));
export const written = (id: string, words: ThreadWords) => json<Thread>(`/threads/${id}`, sent('PUT', words));
export const putAway = (id: string, away: boolean) => json<Thread>(`/threads/${id}`, sent('PATCH', { away }));

/** `mm` more (or fewer) of a thread, and why. */
export const moved = (id: string, mm: number, why: string) =>
  json<Thread>(`/threads/${id}/move`, sent('POST', { mm, why }));

export const csvLook = (file: File, apply: boolean) =>
  json<CsvLook>(`/threads/csv?apply=${apply}`, fileForm(file, file.name));

export const nearest = (colour: string) =>
  json<{ threads: { id: string; difference: number }[] }>(`/threads/nearest?${new URLSearchParams({ colour })}`);

/** What `designs` take (all that are not put away where none are named). */
export const needed = (designs: readonly string[]) =>
  json<{ threads: Need[] }>(`/threads/needed?${new URLSearchParams({ designs: designs.join(',') })}`);

export const csvOut = async () => (await answer('/threads.csv')).blob();
