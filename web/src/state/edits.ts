/** Changes of a document, each a new document: nothing is edited in place. */

import type { DesignDocument, LayerSpec, ThreadSpec } from '../wire/design';
import { renamedIn } from './rows';

type Json = unknown;

/** `document` with the value at a path such as `layers[0].params.outer` replaced. */
export function withValue<T>(document: T, path: string, value: Json): T {
  const keys = [...path.matchAll(/[^.[\]]+/g)].map(([key]) => (/^\d+$/.test(key) ? Number(key) : key));
  return placed(document, keys, value) as T;
}

function placed(at: Json, keys: readonly (string | number)[], value: Json): Json {
  const [key, ...rest] = keys;
  if (key === undefined) return value;
  if (typeof key === 'number') {
    const list = Array.isArray(at) ? [...at] : [];
    list[key] = placed(list[key], rest, value);
    return list;
  }
  const record = { ...((at ?? {}) as Record<string, Json>) };
  const next = placed(record[key], rest, value);
  if (next === undefined) delete record[key];
  else record[key] = next;
  return record;
}

export const layersOf = (document: DesignDocument): LayerSpec[] => document.layers ?? [];

export const withLayers = (document: DesignDocument, layers: LayerSpec[]): DesignDocument => ({
  ...document,
  layers,
});

export function withLayer(document: DesignDocument, index: number, change: Partial<LayerSpec>): DesignDocument {
  return withLayers(
    document,
    layersOf(document).map((layer, k) => (k === index ? { ...layer, ...change } : layer)),
  );
}

export function withParam(document: DesignDocument, index: number, name: string, value: Json): DesignDocument {
  return withValue(document, `layers[${index}].params.${name}`, value);
}

/** The layer moved from one place in the list to another. */
export function moved(document: DesignDocument, from: number, to: number): DesignDocument {
  const layers = [...layersOf(document)];
  const [layer] = layers.splice(from, 1);
  if (layer) layers.splice(to, 0, layer);
  return withLayers(document, layers);
}

/** A name nothing in `taken` has: "petals", "petals 2", "petals 3" … */
export function freeName(wanted: string, taken: readonly string[]): string {
  const stem = wanted.replace(/ \d+$/, '').slice(0, 54);
  if (!taken.includes(wanted)) return wanted;
  let n = 2;
  while (taken.includes(`${stem} ${n}`)) n += 1;
  return `${stem} ${n}`;
}

export function duplicated(document: DesignDocument, index: number): DesignDocument {
  const layers = layersOf(document);
  const layer = layers[index];
  if (!layer) return document;
  const copy = {
    ...layer,
    name: freeName(
      layer.name,
      layers.map((each) => each.name),
    ),
  };
  return withLayers(document, [...layers.slice(0, index + 1), copy, ...layers.slice(index + 1)]);
}

export const without = (document: DesignDocument, index: number): DesignDocument =>
  withLayers(
    document,
    layersOf(document).filter((_, k) => k !== index),
  );

export function withThread(document: DesignDocument, index: number, change: Partial<ThreadSpec>): DesignDocument {
  const threads = document.threads.map((thread, k) => (k === index ? { ...thread, ...change } : thread));
  return { ...document, threads };
}

/** A thread called otherwise, everywhere it is named. */
export function renamed(document: DesignDocument, index: number, name: string): DesignDocument {
  const before = document.threads[index]?.name;
  if (before === undefined || before === name) return document;
  const next = withThread(document, index, { name });
  const marking = next.marking.thread === before ? { ...next.marking, thread: name } : next.marking;
  const layers = layersOf(next).map((layer) => ({ ...layer, rows: renamedIn(layer.rows, before, name) }));
  return { ...next, marking, layers };
}

/** Two threads' colours exchanged everywhere. */
export function swapped(document: DesignDocument, one: number, other: number): DesignDocument {
  const a = document.threads[one];
  const b = document.threads[other];
  if (!a || !b) return document;
  return withThread(withThread(document, one, { colour: b.colour }), other, { colour: a.colour });
}
