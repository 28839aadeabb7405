/** Arcs of circles on the ball as a float texture, two texels an arc: what the vertex shader draws from. */

import { DataTexture, FloatType, NearestFilter, RGBAFormat } from 'three';
import type { SceneGuideline } from '../wire/scene';

export const TEXELS_ACROSS = 1024;

/** Eight numbers an arc, as on the wire. */
export type ArcRecords = Float32Array;

/** A texture holding records of eight numbers; the last line is filled up with zeros. */
export function recordTexture(records: Float32Array): DataTexture {
  const height = Math.max(1, Math.ceil(records.length / 4 / TEXELS_ACROSS));
  const data = new Float32Array(TEXELS_ACROSS * height * 4);
  data.set(records);
  const texture = new DataTexture(data, TEXELS_ACROSS, height, RGBAFormat, FloatType);
  texture.minFilter = texture.magFilter = NearestFilter;
  texture.needsUpdate = true;
  return texture;
}

/** Guidelines as arc records. */
export function guidelineRecords(lines: readonly SceneGuideline[]): ArcRecords {
  const records = new Float32Array(lines.length * 8);
  lines.forEach((line, k) => {
    records.set([...line.normal, line.offset, ...fromAxis(line), line.sweep], k * 8);
  });
  return records;
}

type Triple = readonly [number, number, number];

const cross = (a: Triple, b: Triple): Triple => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const dot = (a: Triple, b: Triple) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const unit = (a: Triple): Triple => {
  const size = Math.hypot(...a) || 1;
  return [a[0] / size, a[1] / size, a[2] / size];
};

/** Unit vector from the line's axis to its start. */
const fromAxis = ({ normal, offset, start }: SceneGuideline): Triple =>
  unit([start[0] - offset * normal[0], start[1] - offset * normal[1], start[2] - offset * normal[2]]);

/** The angle between two unit vectors, radians; atan2 keeps its digits where acos loses them. */
export const angleBetween = (a: Triple, b: Triple): number => Math.atan2(Math.hypot(...cross(a, b)), dot(a, b));

/** The shorter great-circle arc from `a` to `b` as one record; none where they coincide or are opposite. */
export function arcBetween(a: Triple, b: Triple): number[] {
  const sweep = angleBetween(a, b);
  if (sweep < 1e-6 || sweep > Math.PI - 1e-6) return [];
  return [...unit(cross(a, b)), 0, ...a, sweep];
}

const BARB = 0.05;

/** An arrow from `from` to `to`: its shaft and two barbs; none where they coincide or are opposite. */
export function arrowRecords(from: Triple, to: Triple): number[] {
  const shaft = arcBetween(from, to);
  if (shaft.length === 0) return [];
  const back = unit(cross([shaft[0]!, shaft[1]!, shaft[2]!], to)).map((x) => -x) as unknown as Triple;
  const side: Triple = [shaft[0]!, shaft[1]!, shaft[2]!];
  const size = Math.min(BARB, shaft[7]! / 2);
  const barb = (way: number) =>
    unit([0, 1, 2].map((k) => to[k as 0] + size * (back[k as 0] + way * 0.5 * side[k as 0])) as unknown as Triple);
  return [...shaft, ...arcBetween(to, barb(1)), ...arcBetween(to, barb(-1))];
}

/** A whole circle at `radius` radians round `middle` as one record. */
export function ringRound(middle: Triple, radius: number): number[] {
  const aside = unit(cross(middle, Math.abs(middle[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]));
  return [...middle, Math.cos(radius), ...aside, 2 * Math.PI];
}

/** Where along an arc record `point` lies, radians from its start, 0 to 2 pi. */
export function along(records: ArcRecords, arc: number, point: Triple): number {
  const at = arc * 8;
  const n: Triple = [records[at]!, records[at + 1]!, records[at + 2]!];
  const e1: Triple = [records[at + 4]!, records[at + 5]!, records[at + 6]!];
  const t = Math.atan2(dot(cross(n, e1), point), dot(e1, point));
  return t < 0 ? t + 2 * Math.PI : t;
}

/** The point at `t` radians along an arc record, and the way it runs there. */
export function pointAt(records: ArcRecords, arc: number, t: number): [Triple, Triple] {
  const at = arc * 8;
  const n: Triple = [records[at]!, records[at + 1]!, records[at + 2]!];
  const c = records[at + 3]!;
  const r = Math.sqrt(Math.max(0, 1 - c * c));
  const e1: Triple = [records[at + 4]!, records[at + 5]!, records[at + 6]!];
  const e2 = cross(n, e1);
  const [cos, sin] = [Math.cos(t), Math.sin(t)];
  const point = (k: 0 | 1 | 2) => c * n[k] + r * (cos * e1[k] + sin * e2[k]);
  const way = (k: 0 | 1 | 2) => cos * e2[k] - sin * e1[k];
  return [
    [point(0), point(1), point(2)],
    [way(0), way(1), way(2)],
  ];
}

/** The great-circle arcs from each touched place to the next. */
export function rulerRecords(places: readonly Triple[]): number[] {
  return places.slice(1).flatMap((place, k) => arcBetween(places[k]!, place));
}
