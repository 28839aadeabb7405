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
  const known = new Map(((all ?? []) as Waiting[]).map((each) => [each.id, each.event]));
  for (const left of journal()) if (left.piece === piece) known.set(left.id, left.event);
  return { state: told?.state ?? null, waiting: [...known.values()].sort((a, b) => a.seq - b.seq) };
}

// A page may be gone before the database has written: until then an event also stands in a journal that is
// written at once.
const JOURNAL = 'polestitch-event-';

function journal(): Waiting[] {
  const keys = Object.keys(localStorage).filter((key) => key.startsWith(JOURNAL));
  return keys.map((key) => JSON.parse(localStorage.getItem(key) ?? 'null') as Waiting).filter(Boolean);
}

export const keepTold = (piece: string, state: ChairState) =>
  through('told', 'readwrite', (store) => store.put({ piece, state }));

/** Keeps an event until it is dropped. */
export async function keepWaiting(piece: string, event: ChairEvent): Promise<void> {
  const waiting: Waiting = { id: event.id, piece, event };
  try {
    localStorage.setItem(JOURNAL + event.id, JSON.stringify(waiting));
  } catch {
    // Full or forbidden: the database alone keeps it.
  }
  const written = await through('waiting', 'readwrite', (store) => store.put(waiting));
  if (written !== null) localStorage.removeItem(JOURNAL + event.id);
}

/** The studio has it. */
export async function drop(event: string): Promise<void> {
  localStorage.removeItem(JOURNAL + event);
  await through('waiting', 'readwrite', (store) => store.delete(event));
}

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
