/** What was done and is not told yet, kept in this browser so that nothing is lost while the studio is away. */

import type { ChairEvent, ChairState } from '../wire/chair';

const NAME = 'polestitch-chair';
const VERSION = 1;

interface Told {
  piece: string;
  /** What the studio said last. */
  state: ChairState;
}

/** One event that waits; each is a record of its own, so that two windows never overwrite each other's. */
interface Waiting {
  id: string;
  piece: string;
  event: ChairEvent;
}

function opened(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, VERSION);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore('told', { keyPath: 'piece' });
      asked.result.createObjectStore('waiting', { keyPath: 'id' }).createIndex('piece', 'piece');
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error ?? new Error('no store'));
  });
}

let database: Promise<IDBDatabase> | null = null;

/** What `act` answers; null where this browser keeps nothing (a private window): work goes on from memory. */
async function through<T>(
  name: 'told' | 'waiting',
  mode: IDBTransactionMode,
  act: (store: IDBObjectStore) => IDBRequest<T>,
): Promise<T | null> {
  try {
    database ??= opened();
    const store = (await database).transaction(name, mode).objectStore(name);
    return await new Promise<T>((resolve, reject) => {
      const asked = act(store);
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = () => reject(asked.error ?? new Error('not kept'));
    });
  } catch {
    return null;
  }
}

/** The state the studio told last, and the events that still wait. */
export async function kept(piece: string): Promise<{ state: ChairState | null; waiting: ChairEvent[] }> {
  const told = (await through('told', 'readonly', (store) => store.get(piece))) as Told | null | undefined;
  const all = await through('waiting', 'readonly', (store) => store.index('piece').getAll(piece));
  return { state: told?.state ?? null, waiting: ((all ?? []) as Waiting[]).map((each) => each.event) };
}

export const keepTold = (piece: string, state: ChairState) =>
  through('told', 'readwrite', (store) => store.put({ piece, state }));

export const keepWaiting = (piece: string, event: ChairEvent) =>
  through('waiting', 'readwrite', (store) => store.put({ id: event.id, piece, event }));

export const drop = (event: string) => through('waiting', 'readwrite', (store) => store.delete(event));

const DEVICE = 'polestitch-device';
const SEQUENCE = 'polestitch-seq';

/** 32 hex digits; works without a secure origin, as over a home network. */
export function freshId(): string {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** The name this browser signs its events with. */
export function deviceName(): string {
  const known = localStorage.getItem(DEVICE);
  if (known) return known;
  const fresh = freshId();
  localStorage.setItem(DEVICE, fresh);
  return fresh;
}

/** The next number of this browser's events; shared by all its windows. */
export function nextSequence(): number {
  const next = Number(localStorage.getItem(SEQUENCE) ?? '0') + 1;
  localStorage.setItem(SEQUENCE, String(next));
  return next;
}
