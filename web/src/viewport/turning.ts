/** How the ball is turned: by hand without momentum, and the short way to face a place. */

import { Quaternion, Vector3 } from 'three';

const AHEAD = new Vector3(0, 0, 1);

/** The turn that brings `place` to the front the short way from `now`, with N kept upward where it can be. */
export function facing(now: Quaternion, place: Vector3): Quaternion {
  const seen = place.clone().applyQuaternion(now);
  return new Quaternion().setFromUnitVectors(seen, AHEAD).multiply(now).normalize();
}

/** `now` turned by hand: radians to the right and down on the screen. */
export function turned(now: Quaternion, right: number, down: number): Quaternion {
  const size = Math.hypot(right, down);
  if (size < 1e-9) return now.clone();
  const axis = new Vector3(down / size, right / size, 0);
  return new Quaternion().setFromAxisAngle(axis, size).multiply(now).normalize();
}

/** `now` rolled about the line of sight, radians counter-clockwise. */
export function rolled(now: Quaternion, angle: number): Quaternion {
  return new Quaternion().setFromAxisAngle(AHEAD, angle).multiply(now).normalize();
}

/** Where one begins: N a little towards the eye, line 1 to the right of the middle. */
export function atRest(): Quaternion {
  const lean = new Quaternion().setFromAxisAngle(new Vector3(1, 0, 0), -Math.PI / 2 + 0.62);
  return lean.multiply(new Quaternion().setFromAxisAngle(AHEAD, -Math.PI / 2));
}

/** Ease in and out, 0 to 1. */
export const eased = (share: number): number => share * share * (3 - 2 * share);

/** Milliseconds a turn takes: short ones are quick, half a ball takes longest. */
export const turnTime = (angle: number): number => 160 + 90 * angle;
