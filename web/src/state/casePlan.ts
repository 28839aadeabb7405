/** A case drawn to scale: where shelves and balls lie in millimetres of the drawing. */

import { inMm } from './lengths';
import type { PlacedBall, PlacedCase, Shown } from '../wire/showing';

/** Thickness of a drawn shelf board, and room for words under it. */
export const BOARD_MM = 12;

export interface Board {
  shelf: number;
  /** Where the board's upper side lies, from the drawing's top. */
  y: number;
  clear: number;
}
export interface DrawnBall extends PlacedBall {
  shelf: number;
  cx: number;
  cy: number;
  amiss: boolean;
}

/** The boards from the top down, `words` mm apart for what is written under them. */
export function boards(plan: PlacedCase, words: number): Board[] {
  let y = 0;
  return plan.shelves.map((shelf) => {
    y += shelf.clear;
    const board = { shelf: shelf.shelf, y, clear: shelf.clear };
    y += BOARD_MM + words;
    return board;
  });
}

/** Every ball where she has put it by now, which the server may not have heard of yet. */
export function drawnBalls(plan: PlacedCase, lines: readonly Board[], shown: readonly Shown[]): DrawnBall[] {
  const placed = new Map(shown.map((each) => [each.number, each]));
  return plan.shelves.flatMap((shelf) =>
    shelf.balls.flatMap((ball) => {
      const mine = placed.get(ball.number);
      if (!mine || mine.case !== plan.name) return [];
      const board = lines.find((line) => line.shelf === mine.shelf) ?? lines[0]!;
      const cx = (mine.at ? inMm(mine.at) : null) ?? ball.x;
      return [{ ...ball, shelf: board.shelf, cx, cy: board.y - ball.up, amiss: isAmiss(plan, ball.number) }];
    }),
  );
}

/** Numbers that would run into their neighbour's, `room` mm wide each: they are written above their balls. */
export function writtenAbove(
  balls: readonly { number: string; shelf: number; cx: number }[],
  room: number,
): Set<string> {
  const above = new Set<string>();
  const last = new Map<number, number>();
  for (const ball of [...balls].sort((one, other) => one.cx - other.cx)) {
    if (ball.cx - (last.get(ball.shelf) ?? -Infinity) < room) above.add(ball.number);
    else last.set(ball.shelf, ball.cx);
  }
  return above;
}

/** Whether a sentence of the plan speaks of this piece. */
export const isAmiss = (plan: PlacedCase, number: string): boolean =>
  plan.findings.some((sentence) => ` ${sentence} `.includes(` ${number} `));

/** The shelf a height in the drawing belongs to. */
export function shelfAt(lines: readonly Board[], y: number): number {
  return (lines.find((line) => y <= line.y + BOARD_MM) ?? lines.at(-1)!).shelf;
}

/** A place kept inside the case, on whole steps of `step` mm. */
export const settled = (x: number, width: number, step = 5): number =>
  Math.min(width, Math.max(0, Math.round(x / step) * step));
