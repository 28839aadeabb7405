/**
 * Which stretches of which arcs are drawn, in which order.
 *
 * Thread is painted in laying order, so what is laid later covers what is laid earlier. Where an earlier
 * thread must lie on top, a short stretch of it is painted once more over the later one.
 */

import type { Scene } from '../wire/scene';
import { along, pointAt } from './arcs';

/** Most radians of one stretch: three straight steps then follow the circle to a sixth of a fine thread. */
export const LONGEST = 0.33;
/** How far a repainted stretch reaches each side of its crossing, in thread widths. */
const REACH = 1.1;

export const STATE = { plain: 0, lit: 1, faint: 2 } as const;

export interface Pieces {
  /**
   * Eight numbers a piece: arc, from, to (radians along it), thread; lift level, state, whether its
   * start is an end (1), its end is (2) or both (3), nothing.
   */
  records: Float32Array;
  /** The row (in laying order) of each piece; rising. */
  row: Uint32Array;
  count: number;
}

export interface Shown {
  /** Layers that are hidden, by index. */
  hidden: ReadonlySet<number>;
  /** The layer that is lit; the others step back. None: all alike. */
  lit: number | null;
  /** One row of that layer, 1-based in its motif, or none. */
  litRow: number | null;
}

/** Every stretch to paint, in laying order. */
export function piecesOf(scene: Scene, shown: Shown): Pieces {
  const arcs = scene.arcs.length / 8;
  const records: number[] = [];
  const row: number[] = [];
  for (let arc = 0; arc < arcs; arc++) {
    const r = scene.arcRow[arc]!;
    const layer = scene.rowLayer[r]!;
    if (shown.hidden.has(layer)) continue;
    const sweep = scene.arcs[arc * 8 + 7]!;
    const parts = Math.max(1, Math.ceil(sweep / LONGEST));
    const closed = sweep > 6.28;
    const ending = (closed || runsOn(scene, arc - 1, arc) ? 0 : 1) + (closed || runsOn(scene, arc, arc + 1) ? 0 : 2);
    for (let part = 0; part < parts; part++) {
      const ends = (part === 0 ? ending & 1 : 0) + (part === parts - 1 ? ending & 2 : 0);
      records.push(arc, (sweep * part) / parts, (sweep * (part + 1)) / parts, scene.rowThread[r]!);
      records.push(scene.lift[arc] ?? 0, stateOf(scene, r, layer, shown), ends, 0);
      row.push(r);
    }
  }
  return { records: new Float32Array(records), row: new Uint32Array(row), count: row.length };
}

/** Whether the thread runs on from one arc into the next without turning a corner. */
function runsOn(scene: Scene, arc: number, next: number): boolean {
  if (arc < 0 || next >= scene.arcRow.length || scene.arcRow[arc] !== scene.arcRow[next]) return false;
  const [end, way] = pointAt(scene.arcs, arc, scene.arcs[arc * 8 + 7]!);
  const [start, on] = pointAt(scene.arcs, next, 0);
  const gap = Math.hypot(end[0] - start[0], end[1] - start[1], end[2] - start[2]);
  return gap < 1e-4 && way[0] * on[0] + way[1] * on[1] + way[2] * on[2] > 0.75;
}

function stateOf(scene: Scene, row: number, layer: number, shown: Shown): number {
  if (shown.lit === null) return STATE.plain;
  if (layer !== shown.lit) return STATE.faint;
  if (shown.litRow === null) return STATE.plain;
  return scene.rowNumber[row] === shown.litRow ? STATE.lit : STATE.plain;
}

/** The stretches painted once more, where an earlier thread lies over a later one. */
export function patchesOf(scene: Scene, shown: Shown): Pieces {
  const records: number[] = [];
  const row: number[] = [];
  for (let k = 0; k < scene.overs.length; k += 4) {
    const arc = scene.oversIndex[k + 3]!;
    const r = scene.arcRow[arc] ?? 0;
    const layer = scene.rowLayer[r] ?? 0;
    if (shown.hidden.has(layer)) continue;
    const at = along(scene.arcs, arc, [scene.overs[k]!, scene.overs[k + 1]!, scene.overs[k + 2]!]);
    const thread = scene.rowThread[r] ?? 0;
    const reach = REACH * (scene.threads[thread]?.pitch ?? 0.02);
    const sweep = scene.arcs[arc * 8 + 7]!;
    records.push(arc, Math.max(0, at - reach), Math.min(sweep, at + reach), thread);
    records.push((scene.lift[arc] ?? 0) + 1, stateOf(scene, r, layer, shown), 0, 0);
    row.push(r);
  }
  return { records: new Float32Array(records), row: new Uint32Array(row), count: row.length };
}

/** How many pieces belong to the first `rows` rows; `row` rises. */
export function countUntil(row: Uint32Array, rows: number): number {
  let low = 0;
  let high = row.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (row[middle]! < rows) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The marking thread, whole circles cut short enough to stay round; its cord is the last in the table. */
export function markingPieces(scene: Scene): Pieces {
  const records: number[] = [];
  const cord = scene.threads.length;
  scene.guidelines.forEach((line, arc) => {
    const parts = Math.max(1, Math.ceil(line.sweep / LONGEST));
    for (let part = 0; part < parts; part++)
      records.push(arc, (line.sweep * part) / parts, (line.sweep * (part + 1)) / parts, cord, 0, 0, 0, 0);
  });
  const count = records.length / 8;
  return { records: new Float32Array(records), row: new Uint32Array(count), count };
}
