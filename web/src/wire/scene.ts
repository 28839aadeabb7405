/**
 * The scene as bytes: a 4-byte little-endian length, a JSON index, then arrays on 4-byte boundaries.
 * Twin of `scene/wire.py`; both decode the same golden file in their tests. Views are made, nothing is copied.
 */

export type Vec3 = readonly [number, number, number];
export type Severity = 'note' | 'care' | 'stop';

export interface SceneThread {
  name: string;
  colour: string;
  metallic: boolean;
  /** Width one laid thread takes, radians. */
  pitch: number;
}

export interface SceneLayer {
  name: string;
  technique: string;
  motifs: number;
  rows: number | number[];
  spans: number;
}

export interface ScenePoint {
  name: string;
  kind: string;
  ways: number;
  xyz: Vec3;
}

export interface SceneGuideline {
  name: string;
  normal: Vec3;
  start: Vec3;
  /** Radians, right-handed about the normal. */
  sweep: number;
  offset: number;
}

export interface Remedy {
  path: string;
  value: unknown;
}

export interface SceneFinding {
  kind: string;
  severity: Severity;
  layer: number | null;
  row: number | null;
  address: string | null;
  sentence: string;
  remedy: Remedy | null;
  xyz: Vec3 | null;
}

export interface Wrong {
  where: string;
  what: string;
}

export interface SceneIndex {
  question: number;
  around_mm: number;
  units: 'mm' | 'in';
  hand: 'left' | 'right';
  threads: SceneThread[];
  ground: string;
  layers: SceneLayer[];
  rows: number;
  points: ScenePoint[];
  guidelines: SceneGuideline[];
  pins: unknown[];
  findings: SceneFinding[];
  estimate: Record<string, unknown>;
  hours: { low: number; likely: number; high: number } | number | null;
  cover: number | null;
  crossings: number | null;
  wrong: Wrong | null;
  plain: string;
}

export interface Scene extends SceneIndex {
  /** Eight numbers an arc: unit normal, offset, unit start, sweep. In laying order. */
  arcs: Float32Array;
  arcRow: Uint32Array;
  rowLayer: Uint16Array;
  rowMotif: Uint16Array;
  rowNumber: Uint16Array;
  rowThread: Uint16Array;
  /** Height level of each arc above the ground wrap. */
  lift: Uint8Array;
  /** Four numbers where an earlier arc must lie on top: the crossing, then that arc's index. */
  overs: Float32Array;
  /** The same bytes as `overs`: every fourth number is an arc's index. */
  oversIndex: Uint32Array;
}

type ArrayKind = 'f32' | 'u32' | 'u16' | 'u8';
interface ArrayPlace {
  type: ArrayKind;
  shape: number[];
  at: number;
}

const KINDS = { f32: Float32Array, u32: Uint32Array, u16: Uint16Array, u8: Uint8Array } as const;

/** The scene in `bytes`; throws where an array would reach past the end. */
export function sceneOf(bytes: ArrayBuffer): Scene {
  const length = new DataView(bytes).getUint32(0, true);
  const text = new TextDecoder().decode(new Uint8Array(bytes, 4, length));
  const { arrays, ...index } = JSON.parse(text) as SceneIndex & { arrays: Record<string, ArrayPlace> };
  const base = 4 + length;
  function view<K extends ArrayKind>(name: string, kind: K): InstanceType<(typeof KINDS)[K]> {
    const Kind = KINDS[kind];
    const place = arrays[name];
    if (!place) return new Kind(0) as InstanceType<(typeof KINDS)[K]>;
    if (place.type !== kind) throw new Error(`The scene's ${name} are ${place.type}, not ${kind}.`);
    const count = place.shape.reduce((product, n) => product * n, 1);
    return new Kind(bytes, base + place.at, count) as InstanceType<(typeof KINDS)[K]>;
  }
  const overs = view('overs', 'f32');
  return {
    ...index,
    arcs: view('arcs', 'f32'),
    arcRow: view('arc_row', 'u32'),
    rowLayer: view('row_layer', 'u16'),
    rowMotif: view('row_motif', 'u16'),
    rowNumber: view('row_number', 'u16'),
    rowThread: view('row_thread', 'u16'),
    lift: view('lift', 'u8'),
    overs,
    oversIndex: new Uint32Array(overs.buffer, overs.byteOffset, overs.length),
  };
}

/** The name of the point a pin stands on; the index may carry a name or a record. */
export function pinPoint(pin: unknown): string | null {
  if (typeof pin === 'string') return pin;
  if (typeof pin !== 'object' || pin === null) return null;
  const record = pin as Record<string, unknown>;
  const name = record['point'] ?? record['name'];
  return typeof name === 'string' ? name : null;
}
