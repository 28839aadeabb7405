/** Pins counted in and out: when the Chair asks, and what the two counts say. */

import type { ChairState, HandStep } from '../wire/chair';

/** Settings of a piece: a count she owes, and how many had gone in when she last found the ball empty. */
export const OWED = 'pins owed';
export const EMPTY = 'pins all out';

/** Which pins a step has her take out. */
export function takesOut(step: HandStep): 'every' | 'some' | null {
  if (!/\btake out\b[^.]*\bpins?\b/i.test(step.say)) return null;
  return /\bevery pin\b/i.test(step.say) ? 'every' : 'some';
}

/** Whether no pin is left in the ball, by her counts or by her word. */
export function allOut({ pins, settings }: ChairState): boolean {
  return (pins.in > 0 && pins.in === pins.out) || settings[EMPTY] === pins.in;
}

/** What she is asked to count now, if anything. */
export function owed(state: ChairState, over: boolean): 'every' | 'some' | null {
  if (over && !allOut(state)) return 'every';
  const asked = state.settings[OWED];
  return (asked === 'every' && !allOut(state)) || asked === 'some' ? asked : null;
}

const many = (n: number): string => (n === 1 ? '1 pin is' : `${n} pins are`);

/** What the counts say: whether all is well, and the sentence. */
export function verdict(pins: ChairState['pins'], which: 'every' | 'some'): { well: boolean; said: string } {
  const left = pins.in - pins.out;
  const counts = `${pins.in} went in, ${pins.out} came out.`;
  if (left < 0) return { well: false, said: `${counts} More came out than went in, so one count is wrong.` };
  if (left === 0) return { well: true, said: `${counts} No pin is left in the ball.` };
  return { well: which === 'some', said: `${counts} ${many(left)} still in the ball.` };
}
