/** What is drawn on the ball to help the hand: pins, lines, words, rings, arrows. */

import type { Vec3 } from '../wire/scene';
import type { Mark } from './overlay';

type Way = readonly [Vec3, Vec3];

export interface Aids {
  /** Where pins stand. */
  pins: readonly Vec3[];
  lines: boolean;
  marks: readonly Mark[];
  /** Lit places, each a ring round it. */
  rings: readonly Vec3[];
  ruler: readonly Vec3[];
  /** Ways a pin must go, from where it is. */
  arrows?: readonly Way[];
  /** Ways to lay a strip, lit. */
  ways?: readonly Way[];
  /** How the marking thread looks: its colour and whether it glints. */
  marking: { colour: string; metallic: boolean };
}

export interface Inks {
  brass: string;
  indigo: string;
  madder: string;
  shadow: number;
}
