import { expect, test } from 'vitest';
import type { HandStep } from '../wire/chair';
import { nothingDone } from './fold';
import { allOut, EMPTY, OWED, owed, takesOut, verdict } from './pins';

const step = (say: string): HandStep => ({ n: 0, part: 'finish', say, at: '', under: [], over: [], eye_first: false });
const counted = (went: number, came: number, settings = {}) => ({
  ...nothingDone(),
  pins: { in: went, out: came, counts: [] },
  settings,
});

test('steps that take pins out are known by what they say', () => {
  expect(takesOut(step('Take out every pin, and count them.'))).toBe('every');
  expect(takesOut(step('Take out the pins at A and B. They only helped to find the others.'))).toBe('some');
  expect(takesOut(step('Set every pin straight down into the ball.'))).toBeNull();
  expect(takesOut(step('Take out the support lines that were only a help: X. Leave the pins in.'))).toBeNull();
});

test('the count is owed at the end until the ball is empty', () => {
  expect(owed(counted(0, 0), true)).toBe('every');
  expect(owed(counted(17, 16), true)).toBe('every');
  expect(owed(counted(17, 17), true)).toBeNull();
  expect(owed(counted(17, 16), false)).toBeNull();
  expect(owed(counted(17, 3, { [OWED]: 'some' }), false)).toBe('some');
});

test('her word that none is left holds until another pin goes in', () => {
  expect(allOut(counted(17, 16, { [EMPTY]: 17 }))).toBe(true);
  expect(allOut(counted(18, 16, { [EMPTY]: 17 }))).toBe(false);
});

test('a difference is said plainly', () => {
  expect(verdict({ in: 17, out: 16, counts: [] }, 'every')).toEqual({
    well: false,
    said: '17 went in, 16 came out. 1 pin is still in the ball.',
  });
  expect(verdict({ in: 17, out: 3, counts: [] }, 'some').well).toBe(true);
  expect(verdict({ in: 3, out: 4, counts: [] }, 'some').well).toBe(false);
  expect(verdict({ in: 4, out: 4, counts: [] }, 'every').well).toBe(true);
});
