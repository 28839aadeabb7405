/** Readings as she writes them, and what to measure next. Nothing here asks the server. */

import type { AskedDistance, KeptReading, KeptSurvey, Surveyed, SurveyedPin } from '../wire/survey';
import type { Vec3 } from '../wire/scene';

export type Unit = 'mm' | 'cm' | 'in';
export type Pair = readonly [string, string];

/** What she typed with its unit behind it, where it has none of its own and the unit is not mm. */
export function withUnit(text: string, unit: Unit): string {
  const plain = text.trim().replace(/\s+/g, ' ');
  return unit === 'mm' || /[a-z]/i.test(plain) ? plain : `${plain} ${unit}`;
}

const key = (first: string, second: string): string => [first, second].sort().join(' | ');

/** The next pair of the plan after `from` that has no reading, or the most telling one when all are read. */
export function nextPair(
  asked: readonly AskedDistance[],
  survey: KeptSurvey,
  answer: Surveyed | null,
  from: Pair | null = null,
): Pair | null {
  const read = new Set(survey.readings.filter((one) => !one.aside).map((one) => key(one.first, one.second)));
  const at = from ? asked.findIndex((one) => key(one.first, one.second) === key(...from)) : -1;
  const order = [...asked.slice(at + 1), ...asked.slice(0, at + 1)];
  const open = order.find((one) => !read.has(key(one.first, one.second)) && !(from && same(from, one)));
  if (open) return [open.first, open.second];
  const more = answer?.next.filter((one) => !(from && same(from, one)))[0];
  return more ? [more.first, more.second] : null;
}

const same = (pair: Pair, one: { first: string; second: string }) => key(...pair) === key(one.first, one.second);

/** What a distance should be by the plan, if the plan asks for it. */
export const dueOf = (asked: readonly AskedDistance[], pair: Pair): number | null =>
  asked.find((one) => same(pair, one))?.mm ?? null;

/** The survey with readings of moved pins set aside, and no move ticked. */
export function afterMoves(survey: KeptSurvey, moved: ReadonlySet<string>): KeptSurvey {
  const touches = (one: KeptReading) => [one.first, one.second, one.via].some((name) => moved.has(name));
  return {
    ...survey,
    made: [],
    readings: survey.readings.map((one) => (touches(one) ? { ...one, aside: true } : one)),
  };
}

const EXAGGERATED = [20, 10, 5, 3, 2, 1];
const LONGEST = 0.4; // radians: an arrow longer than this reaches other pins

/** How many times longer than they are arrows are drawn, so that the longest is well seen. */
export function timesLonger(answer: Surveyed): number {
  const longest = Math.max(0, ...answer.moves.map((move) => move.mm)) * ((2 * Math.PI) / answer.ball.around_mm);
  return EXAGGERATED.find((times) => times * longest <= LONGEST) ?? 1;
}

/** From where a pin is to where its arrow ends. */
export function arrowOf(pin: SurveyedPin, times: number): readonly [Vec3, Vec3] {
  const [at, target] = [pin.at as Vec3, pin.target as Vec3];
  const tip = at.map((x, k) => x + times * (target[k]! - x));
  const size = Math.hypot(...tip) || 1;
  return [at, tip.map((x) => x / size) as unknown as Vec3];
}

/** The pin nearest to a touched place, none where all are farther than a finger is wide. */
export function pinNear(pins: readonly SurveyedPin[], xyz: Vec3, reach = 0.16): string | null {
  const away = (pin: SurveyedPin) => Math.hypot(...pin.at.map((x, k) => x - xyz[k]!));
  const nearest = [...pins].sort((a, b) => away(a) - away(b))[0];
  return nearest && away(nearest) < reach ? nearest.point : null;
}
