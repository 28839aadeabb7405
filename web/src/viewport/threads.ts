/** Thread on the ball: pieces drawn in laying order, colours and widths from a small table. */

import {
  BufferAttribute,
  BufferGeometry,
  CustomBlending,
  DataTexture,
  FloatType,
  GLSL3,
  InstancedBufferGeometry,
  Mesh,
  NearestFilter,
  OneFactor,
  OneMinusSrcAlphaFactor,
  RGBAFormat,
  ShaderMaterial,
  type Texture,
} from 'three';
import { recordTexture } from './arcs';
import type { Pieces } from './pieces';
import { CORNERS, FRINGE, STEPS, THREAD_FRAGMENT, THREAD_VERTEX } from './shaders';

export interface Cord {
  /** Linear light, 0 to 1. */
  colour: readonly [number, number, number];
  metallic: boolean;
  /** Radians: half the width it takes. */
  half: number;
  /** Length of one twist in half-widths. */
  twist: number;
}

/** Linear light of a colour such as #1d2b45. */
export function linear(hex: string): [number, number, number] {
  const value = parseInt(/^#?([0-9a-f]{6})$/i.exec(hex.trim())?.[1] ?? '808080', 16);
  const channel = (shift: number) => {
    const c = ((value >> shift) & 255) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return [channel(16), channel(8), channel(0)];
}

/** Two lines of texels, one column a thread. */
export function cordTexture(cords: readonly Cord[]): DataTexture {
  const width = Math.max(1, cords.length);
  const data = new Float32Array(width * 8);
  cords.forEach((cord, k) => {
    data.set([...cord.colour, cord.metallic ? 1 : 0], k * 4);
    data.set([cord.half, cord.twist, 0, 0], (width + k) * 4);
  });
  const texture = new DataTexture(data, width, 2, RGBAFormat, FloatType);
  texture.minFilter = texture.magFilter = NearestFilter;
  texture.needsUpdate = true;
  return texture;
}

/** A strip of `steps` quads: x along (0 to 1), y across (-1 to 1). */
export function strip(steps: number): InstancedBufferGeometry {
  const geometry = new InstancedBufferGeometry();
  const place = new Float32Array((steps + 1) * 6);
  const index: number[] = [];
  for (let k = 0; k <= steps; k++) {
    place.set([k / steps, -1, 0, k / steps, 1, 0], k * 6);
    if (k < steps) index.push(2 * k, 2 * k + 1, 2 * k + 2, 2 * k + 2, 2 * k + 1, 2 * k + 3);
  }
  geometry.setAttribute('position', new BufferAttribute(place, 3));
  geometry.setIndex(index);
  return geometry;
}

export const PAINTED = {
  glslVersion: GLSL3,
  depthTest: false,
  depthWrite: false,
  transparent: true,
  blending: CustomBlending,
  blendSrc: OneFactor,
  blendDst: OneMinusSrcAlphaFactor,
  premultipliedAlpha: true,
} as const;

/** Triangles of `count` strips of `STEPS` quads whose corners are numbered one strip after the other. */
function triangles(count: number): Uint32Array {
  const index = new Uint32Array(count * STEPS * 6);
  let at = 0;
  for (let piece = 0; piece < count; piece++) {
    for (let step = 0; step < STEPS; step++) {
      const first = piece * CORNERS + step * 2;
      index.set([first, first + 1, first + 2, first + 2, first + 1, first + 3], at);
      at += 6;
    }
  }
  return index;
}

/**
 * One draw of plain triangles for all pieces, in laying order. Not instances: software WebGL pays some
 * twenty microseconds for each of those.
 */
export class Threads {
  readonly mesh: Mesh<BufferGeometry, ShaderMaterial>;
  #pieces: DataTexture | null = null;
  painted = 0;

  constructor(order: number, cast: number) {
    const material = new ShaderMaterial({
      ...PAINTED,
      vertexShader: THREAD_VERTEX,
      fragmentShader: THREAD_FRAGMENT,
      uniforms: {
        uArcs: { value: null as Texture | null },
        uThreads: { value: null as Texture | null },
        uPieces: { value: null as Texture | null },
        uDistance: { value: 4 },
        uCast: { value: cast },
        uFringe: { value: FRINGE },
      },
    });
    this.mesh = new Mesh(new BufferGeometry(), material);
    this.mesh.frustumCulled = false;
    this.mesh.renderOrder = order;
    this.mesh.visible = false;
  }

  /** Takes these pieces; the arcs and cords they name are textures somebody else owns. */
  take(pieces: Pieces, arcs: Texture, cords: Texture): void {
    this.mesh.geometry.dispose();
    this.#pieces?.dispose();
    const geometry = new BufferGeometry();
    geometry.setIndex(new BufferAttribute(triangles(pieces.count), 1));
    this.mesh.geometry = geometry;
    this.#pieces = recordTexture(pieces.records);
    this.uniform('uPieces', this.#pieces);
    this.uniform('uArcs', arcs);
    this.uniform('uThreads', cords);
    this.until(pieces.count);
  }

  /** How many of the pieces are painted. */
  until(count: number): void {
    this.painted = count;
    this.mesh.geometry.setDrawRange(0, count * STEPS * 6);
    this.mesh.visible = count > 0;
  }

  /** Bare threads cast no shadow on their neighbours: half the work while the ball moves slowly. */
  set bare(bare: boolean) {
    this.uniform('uFringe', bare ? 1.04 : FRINGE);
  }

  uniform(name: string, value: unknown): void {
    const uniform = this.mesh.material.uniforms[name];
    if (uniform) uniform.value = value;
  }

  dispose(): void {
    this.#pieces?.dispose();
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}
