/** Her own path as the document holds it: spots in visiting order, and layers with one spot more, less or elsewhere. */

import type { DesignDocument, LayerSpec } from '../wire/design';
import { freeName, layersOf, withLayer, withLayers } from './edits';

export const OWN_PATH = 'own_path';

/** One spot of a path; without marks it is written as its address alone. */
export interface Visit {
  at: string;
  take?: 'bite' | 'wide bite' | 'pin';
  pass?: string;
  step?: boolean;
}

export const isPath = (layer: LayerSpec | undefined): boolean => layer?.technique === OWN_PATH;

export function visitsOf(layer: LayerSpec): Visit[] {
  const path = layer.params?.['path'];
  if (!Array.isArray(path)) return [];
  return path.map((each: string | Visit) => (typeof each === 'string' ? { at: each } : each));
}

/** A visit in its shortest form. */
export function shortest(visit: Visit): string | Visit {
  const { at, take = 'bite', pass = '', step = true } = visit;
  if (take === 'bite' && pass === '' && step) return at;
  return { at, ...(take === 'bite' ? {} : { take }), ...(pass ? { pass } : {}), ...(step ? {} : { step }) };
}

export function withVisits(document: DesignDocument, index: number, visits: readonly Visit[]): DesignDocument {
  const layer = layersOf(document)[index];
  if (!layer) return document;
  return withLayer(document, index, { params: { ...layer.params, path: visits.map(shortest) } });
}

/** The document with a new layer that runs from one spot to the next, open, one row. */
export function pathBegun(document: DesignDocument, spots: readonly string[]): DesignDocument {
  const layers = layersOf(document);
  const layer: LayerSpec = {
    name: freeName(
      'own path',
      layers.map((each) => each.name),
    ),
    technique: OWN_PATH,
    where: 'ball',
    rows: `1 ${document.threads[0]?.name ?? 'thread'}`,
    params: { path: [...spots], closed: false },
  };
  return withLayers(document, [...layers, layer]);
}

/** The visits with one moved earlier or later. */
export function visitMoved(visits: readonly Visit[], from: number, by: number): Visit[] {
  const next = [...visits];
  const [visit] = next.splice(from, 1);
  if (visit) next.splice(Math.max(0, Math.min(next.length, from + by)), 0, visit);
  return next;
}
