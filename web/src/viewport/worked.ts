/**
 * A scene seen as work: what is done, what is being laid, what is to come.
 *
 * The painter lights whole rows of a layer; here every arc is put in one of three made-up rows of its
 * thread: done and lit ones in layer 0 (rows 1 and 2), those to come in layer 1, which steps back. Of what is
 * to come only the row in hand is shown: later rows would be painted over what is done.
 */

import type { Scene } from '../wire/scene';
import type { Shown } from './pieces';

const DONE = 0;
const LIT = 1;
const COMING = 2;
const LATER = 3;
const KINDS = 4;

export interface Worked {
  scene: Scene;
  shown: Shown;
  /** Lays the first `laid` arcs and lights those from `lit[0]` up to `lit[1]`. */
  light(laid: number, lit: readonly [number, number] | null): void;
}

/** The scene's own arrays stay as they are; only the rows are made anew. */
export function workedOn(scene: Scene): Worked {
  const threads = Math.max(1, scene.threads.length);
  const own = scene.arcRow;
  const thread = own.map((row) => scene.rowThread[row] ?? 0);
  const kinds = Array.from({ length: threads * KINDS }, (_, k) => k % KINDS);
  const arcRow = new Uint32Array(own.length);
  const worked: Scene = {
    ...scene,
    arcRow,
    rowLayer: Uint16Array.from(kinds, (kind) => Math.max(0, kind - LIT)),
    rowMotif: new Uint16Array(kinds.length),
    rowNumber: Uint16Array.from(kinds, (kind) => (kind === LIT ? 2 : 1)),
    rowThread: Uint16Array.from(kinds, (_, k) => Math.floor(k / KINDS)),
  };
  function light(laid: number, lit: readonly [number, number] | null): void {
    const row = lit ? own[Math.min(lit[0], own.length - 1)] : undefined;
    for (let arc = 0; arc < arcRow.length; arc++) {
      const kind = lit && arc >= lit[0] && arc < lit[1] ? LIT : arc < laid ? DONE : own[arc] === row ? COMING : LATER;
      arcRow[arc] = thread[arc]! * KINDS + kind;
    }
  }
  return { scene: worked, shown: { hidden: new Set([2]), lit: 0, litRow: 2 }, light };
}
