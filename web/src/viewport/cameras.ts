/** Where the eye is: how far off, where it sees a place, and which place a finger touches. */

import { Vector3, type PerspectiveCamera, type Quaternion } from 'three';
import type { Vec3 } from '../wire/scene';

export const VIEW_ANGLE = 26;
/** Share of the smaller side that the ball fills when it is neither near nor far. */
const FILLS = 0.8;

export interface Seen {
  /** Pixels of the canvas. */
  x: number;
  y: number;
  /** Above 0 on the side one sees. */
  front: number;
}

interface Canvas {
  clientWidth: number;
  clientHeight: number;
}

/** From the eye to the ball's middle, in radii of the ball. */
export function distanceOf(camera: PerspectiveCamera): number {
  const half = Math.tan((VIEW_ANGLE * Math.PI) / 360) * Math.min(1, camera.aspect);
  return Math.sqrt(1 + (1 / (half * FILLS)) ** 2);
}

/** Where a place on a ball turned by `now` is seen. */
export function seenAt(camera: PerspectiveCamera, now: Quaternion, canvas: Canvas, xyz: Vec3): Seen {
  const n = new Vector3(...xyz).applyQuaternion(now);
  const distance = distanceOf(camera);
  const spot = n.clone().multiplyScalar(1.015);
  spot.z -= distance;
  spot.applyMatrix4(camera.projectionMatrix);
  const { clientWidth, clientHeight } = canvas;
  return {
    x: (spot.x / 2 + 0.5) * clientWidth,
    y: (0.5 - spot.y / 2) * clientHeight,
    front: n.z * distance - 1,
  };
}

/** The place on the ball under a pixel of the canvas, or none. */
export function touchedAt(
  camera: PerspectiveCamera,
  now: Quaternion,
  canvas: Canvas,
  x: number,
  y: number,
): Vec3 | null {
  const ray = new Vector3((2 * x) / canvas.clientWidth - 1, 1 - (2 * y) / canvas.clientHeight, 0.5)
    .applyMatrix4(camera.projectionMatrixInverse)
    .normalize();
  const middle = new Vector3(0, 0, -distanceOf(camera));
  const along = middle.dot(ray);
  const past = middle.lengthSq() - along * along;
  if (past > 1) return null;
  const hit = ray.multiplyScalar(along - Math.sqrt(1 - past)).sub(middle);
  hit.applyQuaternion(now.clone().invert()).normalize();
  return [hit.x, hit.y, hit.z];
}
