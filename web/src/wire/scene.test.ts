import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { pinPoint, sceneOf } from './scene';

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
    new Uint32Array(payload.buffer, 32, 1)[0] = 7;
    const arrays = {
      arcs: { type: 'f32', shape: [1, 8], at: 0 },
      arc_row: { type: 'u32', shape: [1], at: 32 },
      lift: { type: 'u8', shape: [3], at: 36 },
    };
    const buffer = bytes({ question: 3, arrays }, payload);
    const scene = sceneOf(buffer);
    expect(scene.question).toBe(3);
    expect([...scene.arcs]).toEqual([0, 0, 1, 0, 1, 0, 0, 2.5]);
    expect(scene.arcRow[0]).toBe(7);
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

  const golden = new URL('../../../tests/scene/golden.bin', import.meta.url);
  it.runIf(existsSync(golden))('decodes the golden file its Python twin wrote', () => {
    const file = readFileSync(golden);
    const scene = sceneOf(new Uint8Array(file).buffer);
    expect(scene.arcs.length % 8).toBe(0);
    expect(scene.arcRow).toHaveLength(scene.arcs.length / 8);
    for (let arc = 0; arc < scene.arcs.length; arc += 8) {
      const [x = 0, y = 0, z = 0] = scene.arcs.subarray(arc, arc + 3);
      expect(Math.hypot(x, y, z)).toBeCloseTo(1, 5);
    }
  });
});

describe('pinPoint', () => {
  it('reads a name or a record', () => {
    expect(pinPoint('N')).toBe('N');
    expect(pinPoint({ point: 'obi 3' })).toBe('obi 3');
    expect(pinPoint(4)).toBeNull();
  });
});
