/**
 * The scene as bytes: a 4-byte little-endian length, a JSON index, then arrays on 4-byte boundaries.
 * Twin of `scene/wire.py`; both decode the same golden file in their tests. Views are made, nothing is copied.
 */

export type Vec3 = readonly [number, number, number];

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
  /** What each motif's place is called. */
  places: string[];
  /** How many rows each motif has. */
  rows: number[];
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
  crossings: number;
  wrong: Wrong | null;
  plain: string;
}

export interface Scene extends SceneIndex {
  /**
   * Eight numbers an arc: unit normal n, offset c, unit vector e1 from the axis to the start, sweep.
   * The point at t is c n + r (cos t e1 + sin t n × e1) with r² = 1 − c². In laying order.
   */
  arcs: Float32Array;
  /** The row of each arc, opened out from how many arcs each row has. */
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
    arcRow: openedOut(view('row_arcs', 'u32')),
    rowLayer: view('row_layer', 'u16'),
    rowMotif: view('row_motif', 'u16'),
    rowNumber: view('row_number', 'u16'),
    rowThread: view('row_thread', 'u16'),
    lift: view('lift', 'u8'),
    overs,
    oversIndex: new Uint32Array(overs.buffer, overs.byteOffset, overs.length),
  };
}

/** `counts` opened out: 2, 1 gives 0, 0, 1. */
function openedOut(counts: Uint32Array): Uint32Array {
  const rows = new Uint32Array(counts.reduce((sum, n) => sum + n, 0));
  let at = 0;
  counts.forEach((count, row) => rows.fill(row, at, (at += count)));
  return rows;
}
