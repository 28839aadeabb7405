import { readFileSync } from 'node:fs';
import { PerspectiveCamera, Quaternion, Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { sceneOf, type Vec3 } from '../wire/scene';
import { along, angleBetween, arcBetween, arrowRecords, pointAt, ringRound } from './arcs';
import { seenAt, touchedAt, VIEW_ANGLE } from './cameras';
import { countUntil, LONGEST, patchesOf, piecesOf } from './pieces';
import { facing } from './turning';

const file = readFileSync(new URL('../wire/golden/scene.bin', import.meta.url));
const scene = sceneOf(new Uint8Array(file).buffer);
const all = { hidden: new Set<number>(), lit: null, litRow: null };

describe('pieces', () => {
  const pieces = piecesOf(scene, all);

  it('cover every arc from its start to its end, and none is too long to look round', () => {
    const covered = new Float64Array(scene.arcRow.length);
    for (let k = 0; k < pieces.count; k++) {
      const [arc = 0, from = 0, to = 0] = pieces.records.subarray(k * 8, k * 8 + 3);
      expect(to - from).toBeLessThanOrEqual(LONGEST + 1e-6);
      covered[arc]! += to - from;
    }
    covered.forEach((length, arc) => expect(length).toBeCloseTo(scene.arcs[arc * 8 + 7]!, 5));
  });

  it('come in laying order, and stop at any row', () => {
    const rows = [...pieces.row];
    expect(rows).toEqual(rows.toSorted((a, b) => a - b));
    for (let until = 0; until <= scene.rowLayer.length; until++) {
      expect(countUntil(pieces.row, until)).toBe(rows.filter((row) => row < until).length);
    }
  });

  it('leave hidden layers out', () => {
    const without = piecesOf(scene, { ...all, hidden: new Set([0]) });
    expect(without.count).toBeGreaterThan(0);
    for (const row of without.row) expect(scene.rowLayer[row]).not.toBe(0);
  });

  it('are painted once more where the earlier thread lies on top, at the crossing', () => {
    const patches = patchesOf(scene, all);
    expect(patches.count).toBe(scene.overs.length / 4);
    for (let k = 0; k < patches.count; k++) {
      const [arc = 0, from = 0, to = 0] = patches.records.subarray(k * 8, k * 8 + 3);
      const [middle] = pointAt(scene.arcs, arc, (from + to) / 2);
      const at = scene.overs.subarray(k * 4, k * 4 + 3);
      expect(angleBetween(middle, [at[0]!, at[1]!, at[2]!])).toBeLessThan(0.03);
    }
  });
});

describe('arcs', () => {
  it('are found again by their points', () => {
    for (let arc = 0; arc < scene.arcRow.length; arc++) {
      const t = scene.arcs[arc * 8 + 7]! / 3;
      expect(along(scene.arcs, arc, pointAt(scene.arcs, arc, t)[0])).toBeCloseTo(t, 4);
    }
  });

  it('run from one place to the other', () => {
    const [a, b]: Vec3[] = [
      [0, 0, 1],
      [0.6, 0, 0.8],
    ];
    const record = Float32Array.from(arcBetween(a!, b!));
    expect(record[7]).toBeCloseTo(Math.asin(0.6), 6);
    pointAt(record, 0, record[7]!)[0].forEach((x, k) => expect(x).toBeCloseTo(b![k]!, 6));
    expect(arcBetween(a!, [0, 0, -1])).toEqual([]);
  });

  it('make a ring at the same distance all round', () => {
    const middle: Vec3 = [0.6, 0, 0.8];
    const ring = Float32Array.from(ringRound(middle, 0.1));
    for (const t of [0, 1, 2, 3, 4, 5, 6]) expect(angleBetween(pointAt(ring, 0, t)[0], middle)).toBeCloseTo(0.1, 5);
  });
});

describe('facing', () => {
  it('brings a place to the front by the shortest turn', () => {
    const now = new Quaternion().setFromAxisAngle(new Vector3(0.6, 0.8, 0), 0.7);
    const place = new Vector3(1, 2, -2).normalize();
    const turn = facing(now, place);
    expect(place.clone().applyQuaternion(turn).z).toBeCloseTo(1, 9);
    const shortest = place
      .clone()
      .applyQuaternion(now)
      .angleTo(new Vector3(0, 0, 1));
    expect(now.angleTo(turn)).toBeCloseTo(shortest, 9);
  });
});

describe('the eye', () => {
  it('touches the place it sees', () => {
    const camera = new PerspectiveCamera(VIEW_ANGLE, 1.3, 0.1, 60);
    camera.updateProjectionMatrix();
    const canvas = { clientWidth: 1300, clientHeight: 1000 };
    const now = new Quaternion().setFromAxisAngle(new Vector3(0.6, 0.8, 0), 0.7);
    const place = new Vector3(0.2, 0.1, 1).normalize().applyQuaternion(now.clone().invert());
    const { x, y, front } = seenAt(camera, now, canvas, [place.x, place.y, place.z]);
    expect(front).toBeGreaterThan(0);
    const touched = touchedAt(camera, now, canvas, x, y);
    // What is seen stands a little above the ball (as thread does), so the two agree to a degree.
    expect(angleBetween(touched!, [place.x, place.y, place.z])).toBeLessThan(0.02);
    expect(touchedAt(camera, now, canvas, 2, 2)).toBeNull();
  });
});

describe('an arrow', () => {
  const [from, to]: [Vec3, Vec3] = [
    [1, 0, 0],
    [Math.cos(0.2), Math.sin(0.2), 0],
  ];
  it('has its shaft from start to tip and two barbs that lead back from the tip, one on each side', () => {
    const records = Float32Array.from(arrowRecords(from, to));
    expect(records.length).toBe(24);
    const ends = [1, 2].map((arc) => pointAt(records, arc, records[arc * 8 + 7]!)[0]);
    ends.forEach((end) => expect(angleBetween(end, from)).toBeLessThan(0.2));
    expect(ends[0]![2] * ends[1]![2]).toBeLessThan(0);
    expect(pointAt(records, 1, 0)[0][1]).toBeCloseTo(to[1], 5);
  });
  it('of no length is none', () => expect(arrowRecords(from, from)).toEqual([]));
});
