/** The wound ground: a cube picture of fine thread wound at random, painted once. */

import {
  BufferAttribute,
  BufferGeometry,
  CubeCamera,
  GLSL3,
  LinearFilter,
  LinearMipmapLinearFilter,
  LineSegments,
  NoBlending,
  Scene,
  ShaderMaterial,
  UnsignedByteType,
  WebGLCubeRenderTarget,
  type WebGLRenderer,
} from 'three';
import { WRAP_FRAGMENT, WRAP_VERTEX } from './shaders';

const TURNS = 900;
const STEPS = 72;
const SIZE = 512;

/** A small generator with a seed, so that the same ball looks the same every time (mulberry32). */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Great circles at random, each a line of one brightness. */
function winding(): BufferGeometry {
  const random = seeded(7);
  const place = new Float32Array(TURNS * STEPS * 6);
  const tone = new Float32Array(TURNS * STEPS * 8);
  for (let turn = 0; turn < TURNS; turn++) {
    const z = 2 * random() - 1;
    const a = 2 * Math.PI * random();
    const s = Math.sqrt(1 - z * z);
    const e1 = [-Math.sin(a), Math.cos(a), 0];
    const e2 = [-z * Math.cos(a), -z * Math.sin(a), s];
    const bright = 0.35 + 0.65 * Math.pow(random(), 0.8);
    for (let k = 0; k < STEPS * 2; k++) {
      const t = (2 * Math.PI * ((k + 1) >> 1)) / STEPS;
      const at = turn * STEPS * 2 + k;
      for (let i = 0; i < 3; i++) {
        place[at * 3 + i] = Math.cos(t) * e1[i]! + Math.sin(t) * e2[i]!;
        tone[at * 4 + 1 + i] = 0.5 + 0.5 * (Math.cos(t) * e2[i]! - Math.sin(t) * e1[i]!);
      }
      tone[at * 4] = bright;
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(place, 3));
  geometry.setAttribute('aTone', new BufferAttribute(tone, 4));
  return geometry;
}

/** The cube picture; whoever asks for it disposes it. */
export function wrapPicture(renderer: WebGLRenderer): WebGLCubeRenderTarget {
  const target = new WebGLCubeRenderTarget(SIZE, {
    type: UnsignedByteType,
    generateMipmaps: true,
    minFilter: LinearMipmapLinearFilter,
    magFilter: LinearFilter,
    depthBuffer: false,
  });
  const geometry = winding();
  const material = new ShaderMaterial({
    glslVersion: GLSL3,
    vertexShader: WRAP_VERTEX,
    fragmentShader: WRAP_FRAGMENT,
    depthTest: false,
    depthWrite: false,
    blending: NoBlending,
  });
  const scene = new Scene();
  const lines = new LineSegments(geometry, material);
  lines.frustumCulled = false;
  scene.add(lines);
  new CubeCamera(0.1, 4, target).update(renderer, scene);
  geometry.dispose();
  material.dispose();
  return target;
}
