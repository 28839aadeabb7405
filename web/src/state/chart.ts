/** A small flat view of one motif from its centre: distances from the centre are true. */

import type { Scene, Vec3 } from '../wire/scene';

export interface ChartLine {
  /** Path data in a square from -100 to 100. */
  path: string;
  colour: string;
  state: 'done' | 'lit' | 'coming';
}

export interface Chart {
  lines: ChartLine[];
  guides: string[];
  centre: string;
  place: readonly [number, number] | null;
}

const SIZE = 92;
const SNAP = 0.12;

const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
function unit(a: Vec3): Vec3 {
  const size = Math.hypot(...a) || 1;
  return [a[0] / size, a[1] / size, a[2] / size];
}

/** Points along an arc record, its ends among them. */
function pointsOf(arcs: Float32Array, arc: number): Vec3[] {
  const [nx, ny, nz, c, ex, ey, ez, sweep] = arcs.subarray(arc * 8, arc * 8 + 8) as unknown as number[];
  const n: Vec3 = [nx!, ny!, nz!];
  const e: Vec3 = [ex!, ey!, ez!];
  const side = cross(n, e);
  const r = Math.sqrt(Math.max(0, 1 - c! * c!));
  const steps = Math.max(2, Math.ceil(sweep! / 0.12));
  return Array.from({ length: steps + 1 }, (_, k) => {
    const t = (sweep! * k) / steps;
    return [0, 1, 2].map((i) => c! * n[i]! + r * (Math.cos(t) * e[i]! + Math.sin(t) * side[i]!)) as unknown as Vec3;
  });
}

/** The arcs worked as one motif with `arc`: same layer, same motif; where no motif is so small, the whole layer. */
function motifArcs(scene: Scene, arc: number): number[] {
  const row = scene.arcRow[arc] ?? 0;
  const [layer, motif] = [scene.rowLayer[row], scene.rowMotif[row]];
  const found: number[] = [];
  scene.arcRow.forEach((r, k) => {
    if (scene.rowLayer[r] === layer && scene.rowMotif[r] === motif) found.push(k);
  });
  return found;
}

function centreOf(scene: Scene, points: readonly Vec3[], place: Vec3 | null): { at: Vec3; name: string } {
  const sum = points.reduce<Vec3>((s, p) => [s[0] + p[0], s[1] + p[1], s[2] + p[2]], [0, 0, 0]);
  const round = Math.hypot(...sum) / Math.max(1, points.length);
  const middle = round > 0.25 ? unit(sum) : (place ?? points[0] ?? [0, 0, 1]);
  const near = scene.points.reduce<{ name: string; xyz: Vec3 } | null>(
    (best, p) => (!best || dot(p.xyz, middle) > dot(best.xyz, middle) ? p : best),
    null,
  );
  if (near && Math.acos(Math.min(1, dot(near.xyz, middle))) < SNAP) return { at: near.xyz, name: near.name };
  return { at: middle, name: '' };
}

/** How a place is laid flat round `centre`: azimuthal equidistant, the first guideline upward. */
function flat(centre: Vec3, reach: number): (p: Vec3) => readonly [number, number] | null {
  const aside = Math.abs(centre[2]) < 0.99 ? ([0, 0, 1] as Vec3) : ([0, 1, 0] as Vec3);
  const up = unit([0, 1, 2].map((i) => aside[i]! - dot(aside, centre) * centre[i]!) as unknown as Vec3);
  const right = cross(up, centre);
  return (p) => {
    const away = Math.acos(Math.max(-1, Math.min(1, dot(p, centre))));
    if (away > reach * 1.25) return null;
    const [x, y] = [dot(p, right), dot(p, up)];
    const size = Math.hypot(x, y) || 1;
    return [(SIZE * away * x) / size / reach, (-SIZE * away * y) / size / reach];
  };
}

function pathOf(points: readonly Vec3[], lay: ReturnType<typeof flat>): string {
  let path = '';
  let pen = false;
  for (const p of points) {
    const at = lay(p);
    if (at) path += `${pen ? 'L' : 'M'}${at[0].toFixed(1)} ${at[1].toFixed(1)}`;
    pen = at !== null;
  }
  return path;
}

/** The motif the lit arcs belong to, flat, as far as it is laid. */
export function chartOf(scene: Scene, lit: readonly [number, number], laid: number, place: Vec3 | null): Chart {
  const arcs = motifArcs(scene, lit[0]);
  const shapes = new Map(arcs.map((arc) => [arc, pointsOf(scene.arcs, arc)]));
  const all = [...shapes.values()].flat();
  const { at, name } = centreOf(scene, all, place);
  const reach = Math.min(1.75, Math.max(0.2, ...all.map((p) => Math.acos(Math.max(-1, Math.min(1, dot(p, at)))))));
  const lay = flat(at, reach);
  const lines = arcs.map((arc): ChartLine => {
    const state = arc >= lit[0] && arc < lit[1] ? 'lit' : arc < laid ? 'done' : 'coming';
    const thread = scene.rowThread[scene.arcRow[arc] ?? 0] ?? 0;
    return { path: pathOf(shapes.get(arc)!, lay), colour: scene.threads[thread]?.colour ?? '#888888', state };
  });
  const guides = scene.guidelines.map((line) => {
    const e = unit([0, 1, 2].map((i) => line.start[i]! - line.offset * line.normal[i]!) as unknown as Vec3);
    return pathOf(pointsOf(new Float32Array([...line.normal, line.offset, ...e, line.sweep]), 0), lay);
  });
  const order = { coming: 0, done: 1, lit: 2 };
  return {
    lines: lines.sort((a, b) => order[a.state] - order[b.state]),
    guides: guides.filter(Boolean),
    centre: name,
    place: place ? lay(place) : null,
  };
}
