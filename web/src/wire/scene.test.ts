import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { sceneOf } from './scene';

/** Bytes built by hand from the format's words, not by the reader's own code. */
function bytes(index: Record<string, unknown>, payload: Uint8Array): ArrayBuffer {
  const text = new TextEncoder().encode(JSON.stringify(index));
  const padded = text.length + ((4 - (text.length % 4)) % 4);
  const out = new Uint8Array(4 + padded + payload.length).fill(32);
  new DataView(out.buffer).setUint32(0, padded, true);
  out.set(text, 4);
  out.set(payload, 4 + padded);
  return out.buffer;
}

describe('sceneOf', () => {
  it('makes views that share the bytes', () => {
    const payload = new Uint8Array(44);
    new Float32Array(payload.buffer, 0, 8).set([0, 0, 1, 0, 1, 0, 0, 2.5]);
    new Uint32Array(payload.buffer, 32, 1)[0] = 1;
    const arrays = {
      arcs: { type: 'f32', shape: [1, 8], at: 0 },
      row_arcs: { type: 'u32', shape: [1], at: 32 },
      lift: { type: 'u8', shape: [3], at: 36 },
    };
    const buffer = bytes({ question: 3, arrays }, payload);
    const scene = sceneOf(buffer);
    expect(scene.question).toBe(3);
    expect([...scene.arcs]).toEqual([0, 0, 1, 0, 1, 0, 0, 2.5]);
    expect([...scene.arcRow]).toEqual([0]);
    expect(scene.arcs.buffer).toBe(buffer);
    expect(scene.overs).toHaveLength(0);
  });

  it('refuses an array that reaches past the end', () => {
    const arrays = { arcs: { type: 'f32', shape: [1000, 8], at: 0 } };
    expect(() => sceneOf(bytes({ arrays }, new Uint8Array(32)))).toThrow();
  });

  it('refuses an array of another kind', () => {
    const arrays = { arcs: { type: 'u8', shape: [1, 8], at: 0 } };
    expect(() => sceneOf(bytes({ arrays }, new Uint8Array(32)))).toThrow(/arcs are u8/);
  });
});

describe('the golden file', () => {
  // Written by Python; scene.json holds the same values as plain numbers, so that neither reader checks itself.
  const near = (name: string) => new URL(`./golden/${name}`, import.meta.url);
  const scene = sceneOf(new Uint8Array(readFileSync(near('scene.bin'))).buffer);
  const values = JSON.parse(readFileSync(near('scene.json'), 'utf8')) as {
    index: Record<string, unknown>;
    arrays: Record<string, number[] | number[][]>;
  };

  it('has the index that was written', () => {
    for (const [key, value] of Object.entries(values.index)) expect(scene[key as keyof typeof scene]).toEqual(value);
  });

  it.each([
    ['arcs', 'arcs'],
    ['row_layer', 'rowLayer'],
    ['row_motif', 'rowMotif'],
    ['row_number', 'rowNumber'],
    ['row_thread', 'rowThread'],
    ['lift', 'lift'],
  ] as const)('has the %s that were written', (written, read) => {
    const wanted = values.arrays[written]!.flat();
    expect(scene[read]).toHaveLength(wanted.length);
    wanted.forEach((value, k) => expect(scene[read][k]).toBeCloseTo(value, 5));
  });

  it('gives every arc its row', () => {
    const counts = values.arrays['row_arcs']!.flat();
    const rows = counts.flatMap((count, row) => Array.from({ length: count }, () => row));
    expect([...scene.arcRow]).toEqual(rows);
  });
});
