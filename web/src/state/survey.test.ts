import { describe, expect, it } from 'vitest';
import type { KeptReading, KeptSurvey, Surveyed, SurveyedPin } from '../wire/survey';
import { afterMoves, arrowOf, dueOf, nextPair, pinNear, timesLonger, withUnit } from './survey';

const asked = [
  { first: 'N', second: 'obi 1', mm: 62.5 },
  { first: 'N', second: 'obi 2', mm: 62.5 },
  { first: 'obi 1', second: 'obi 2', mm: 31.25 },
];
const reading = (first: string, second: string, more: Partial<KeptReading> = {}): KeptReading => ({
  first,
  second,
  length: '62',
  via: '',
  aside: false,
  ...more,
});
const survey = (...readings: KeptReading[]): KeptSurvey => ({ readings, made: [], off_by_mm: 0.5 });
const pin = (point: string, at: [number, number, number], target = at) => ({ point, at, target }) as SurveyedPin;
const answer = (mm: number) =>
  ({ moves: [{ mm }], ball: { around_mm: 250 }, next: [{ first: 'S', second: 'obi 2' }] }) as unknown as Surveyed;

describe('a reading', () => {
  it('gets the unit in hand where it has none of its own', () => {
    expect(withUnit(' 62,5 ', 'mm')).toBe('62,5');
    expect(withUnit('2 1/2', 'in')).toBe('2 1/2 in');
    expect(withUnit('6.2 cm', 'in')).toBe('6.2 cm');
  });
});

describe('what to measure next', () => {
  it('is the next of the plan after the pair in hand, either way round, that has no reading', () => {
    expect(nextPair(asked, survey(), null)).toEqual(['N', 'obi 1']);
    expect(nextPair(asked, survey(reading('obi 1', 'N')), null, ['N', 'obi 1'])).toEqual(['N', 'obi 2']);
    expect(nextPair(asked, survey(reading('N', 'obi 2')), null, ['N', 'obi 2'])).toEqual(['obi 1', 'obi 2']);
  });
  it('comes round to pairs that were passed over, and counts no reading set aside', () => {
    const some = survey(reading('N', 'obi 1', { aside: true }), reading('N', 'obi 2'), reading('obi 1', 'obi 2'));
    expect(nextPair(asked, some, null, ['obi 1', 'obi 2'])).toEqual(['N', 'obi 1']);
  });
  it('is the most telling one when the plan is read', () => {
    const all = survey(...asked.map((one) => reading(one.first, one.second)));
    expect(nextPair(asked, all, answer(1))).toEqual(['S', 'obi 2']);
    expect(nextPair(asked, all, null)).toBeNull();
  });
  it('knows what the plan wants of a pair', () => {
    expect(dueOf(asked, ['obi 2', 'obi 1'])).toBe(31.25);
    expect(dueOf(asked, ['N', 'S'])).toBeNull();
  });
});

describe('after a move', () => {
  it('readings of the moved pins are set aside and nothing is thrown away', () => {
    const before = { ...survey(reading('N', 'obi 1'), reading('N', 'obi 2')), made: ['Move it.'] };
    const after = afterMoves(before, new Set(['obi 2']));
    expect(after.readings.map((one) => one.aside)).toEqual([false, true]);
    expect(after.made).toEqual([]);
  });
});

describe('on the ball', () => {
  it('the longest arrow is well seen and never reaches the neighbours', () => {
    expect(timesLonger(answer(0.5))).toBe(20);
    expect(timesLonger(answer(3))).toBe(5);
    expect(timesLonger(answer(60))).toBe(1);
  });
  it('an arrow goes the way of the move, so many times as far', () => {
    const [from, to] = arrowOf(pin('a', [0, 0, 1], [0.01, 0, 0.99995]), 10);
    expect(from).toEqual([0, 0, 1]);
    expect(Math.hypot(...to)).toBeCloseTo(1, 12);
    expect(Math.atan2(to[0], to[2])).toBeCloseTo(0.1, 2);
  });
  it('the pin nearest to a finger is meant, and none from far away', () => {
    const pins = [pin('a', [0, 0, 1]), pin('b', [1, 0, 0])];
    expect(pinNear(pins, [0.05, 0, 0.9987])).toBe('a');
    expect(pinNear(pins, [0, 1, 0])).toBeNull();
  });
});
