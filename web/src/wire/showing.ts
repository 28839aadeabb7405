/** What pieces and shows ask of the server: records, photos, shows, where everything stands, papers. */

import { fileForm, json, sent } from './client';
import type { components } from './design.gen';

type Said = components['schemas'];
export type RecordCard = Said['RecordCard'];
export type PieceRecord = Said['PieceRecord'];
export type OpenedRecord = Said['OpenedRecord'];
export type Where = RecordCard['where'];
export type ShowCard = Said['ShowCard'];
/** A show; its pieces' records are kept apart, so `records` is empty. */
export type ShowBody = Said['Exhibition'];
export type OpenedShow = Said['OpenedShow'];
export type Shown = Said['Shown'];
export type Case = Said['Case'];
export type ShowCheck = Said['ShowCheck'];
export type PlacedCase = Said['PlacedCase'];
export type PlacedBall = Said['PlacedBall'];
export type PaperKind = Said['WantedPapers']['kinds'][number];
export type EarlierVersion = Said['EarlierVersion'];

/** A body with the version that the next change builds on. */
export interface Opened<Body> {
  id: string;
  version: number;
  body: Body;
}
export interface Change<Body> {
  base: number;
  body: Body;
  tab: string;
}

export const records = (away = false) => json<Said['Records']>(`/records?away=${away}`);
export const begunRecord = (from: { design?: string; piece?: string }) =>
  json<OpenedRecord>('/records', sent('POST', from));
export const record = (id: string) => json<OpenedRecord>(`/records/${id}`);
export const keptRecord = (id: string, change: Change<PieceRecord>) =>
  json<OpenedRecord>(`/records/${id}`, sent('PUT', { base: change.base, record: change.body, tab: change.tab }));
export const recordAway = (id: string, away: boolean) => json<RecordCard>(`/records/${id}`, sent('PATCH', { away }));
export const recordVersions = (id: string) => json<{ versions: EarlierVersion[] }>(`/records/${id}/versions`);
export const addedPhoto = (id: string, file: File) =>
  json<OpenedRecord>(`/records/${id}/photos`, fileForm(file, file.name));
export const takenPhotos = (id: string) => json<OpenedRecord>(`/records/${id}/photos/from-chair`, { method: 'POST' });
export const photoAddress = (id: string, photo: string) => `/api/records/${id}/photos/${photo}`;

export const shows = (away = false) => json<{ shows: ShowCard[] }>(`/shows?away=${away}`);
export const begunShow = (title: string) => json<OpenedShow>('/shows', sent('POST', { title }));
export const demoShow = () => json<OpenedShow>('/shows/demo', { method: 'POST' });
export const show = (id: string) => json<OpenedShow>(`/shows/${id}`);
export const keptShow = (id: string, change: Change<ShowBody>) =>
  json<OpenedShow>(`/shows/${id}`, sent('PUT', { base: change.base, show: change.body, tab: change.tab }));
export const showAway = (id: string, away: boolean) => json<ShowCard>(`/shows/${id}`, sent('PATCH', { away }));
export const showVersions = (id: string) => json<{ versions: EarlierVersion[] }>(`/shows/${id}/versions`);
export const checkedShow = (id: string) => json<ShowCheck>(`/shows/${id}/check`);
export const begunPapers = (id: string, kinds: readonly PaperKind[], size: 'a4' | 'letter') =>
  json<{ job: string }>(`/shows/${id}/papers`, sent('POST', { kinds, size }));

/** Whether the picture there is: after it, the browser shows it from what it keeps. */
export async function fetchedPicture(address: string): Promise<boolean> {
  const response = await fetch(address);
  await response.blob();
  return response.ok;
}

export type RecordLook = Said['RecordLook'];
export const RECORDS_CSV = '/api/records.csv';

/** What a list of pieces holds; with `apply` it is taken. */
export const recordList = (file: File, apply: boolean) =>
  json<RecordLook>(`/records/csv?apply=${apply}`, fileForm(file, file.name));
