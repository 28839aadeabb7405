import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { sceneOf } from '../wire/scene';
import { chartOf } from './chart';
import { metres, mmOf } from './amounts';
import { workedOn } from '../viewport/worked';
import { piecesOf, STATE } from '../viewport/pieces';

const bytes = readFileSync(new URL('../wire/golden/scene.bin', import.meta.url));
const scene = sceneOf(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer);

test('an arc is done, lit, to come in this row, or not shown yet', () => {
  const row = (arc: number) => scene.arcRow[arc];
  const worked = workedOn(scene);
  worked.light(3, [3, 5]);
  const pieces = piecesOf(worked.scene, worked.shown);
  const state = new Map<number, number>();
  for (let k = 0; k < pieces.count; k++) state.set(pieces.records[k * 8]!, pieces.records[k * 8 + 5]!);
  const last = scene.arcRow.lastIndexOf(row(3)!);
  expect(Math.max(...state.keys())).toBe(last);
  expect([0, 3, 4, last].map((arc) => state.get(arc))).toEqual([STATE.plain, STATE.lit, STATE.lit, STATE.faint]);
});

test('each arc keeps its own thread', () => {
  const worked = workedOn(scene);
  worked.light(Infinity, null);
  const threads = (s: typeof scene) => [...s.arcRow].map((row) => s.rowThread[row]);
  expect(threads(worked.scene)).toEqual(threads(scene));
});

test('the chart shows the whole motif once, within its circle', () => {
  const chart = chartOf(scene, [3, 4], 3, null);
  expect(chart.lines.filter((line) => line.state === 'lit')).toHaveLength(1);
  expect(chart.lines.filter((line) => line.state === 'done')).toHaveLength(3);
  const numbers = chart.lines.flatMap((line) => line.path.match(/-?[\d.]+/g)!.map(Number));
  expect(Math.max(...numbers.map(Math.abs))).toBeLessThan(116);
});

test('lengths of thread as they are said and written', () => {
  expect([metres(800), metres(12500), metres(250000)]).toEqual(['80 cm', '12.5 m', '250 m']);
  expect(['25 m', '25', '80cm', '12,5 m', 'much'].map(mmOf)).toEqual([25000, 25000, 800, 12500, null]);
});
