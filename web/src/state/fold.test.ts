import { readFileSync, existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { ChairEvent, Deed } from '../wire/chair';
import { after, doneCount, folded, isDone, minutesOf, nothingDone, withoutRange, withRange } from './fold';

let made = 0;
function event(clock: number, deed: Deed, more: Partial<ChairEvent> = {}): ChairEvent {
  made += 1;
  const at = new Date(Date.UTC(2026, 0, 5, 19, clock)).toISOString();
  return { id: `e${made}`, device: 'a', seq: made, clock, at, ...deed, ...more } as ChairEvent;
}

test('ranges join where they touch and part where they are cut', () => {
  expect(withRange([[0, 2]], 2, 3)).toEqual([[0, 3]]);
  expect(
    withRange(
      [
        [0, 1],
        [4, 6],
      ],
      1,
      4,
    ),
  ).toEqual([[0, 6]]);
  expect(withoutRange([[0, 6]], 2, 3)).toEqual([
    [0, 2],
    [3, 6],
  ]);
});

test('ten steps forward and one back', () => {
  const ten = Array.from({ length: 10 }, (_, k) => event(k + 1, { kind: 'next', step: k }));
  const state = folded([...ten, event(11, { kind: 'back', step: 10 })]);
  expect(state.place).toBe(9);
  expect(doneCount(state)).toBe(9);
  expect(isDone(state, 9)).toBe(false);
});

test('the order of arrival and doubles change nothing', () => {
  const log = [
    event(1, { kind: 'next', step: 0 }),
    event(2, { kind: 'next', step: 1 }, { device: 'b' }),
    event(2, { kind: 'jump', to: 7, between: 'done' }),
    event(3, { kind: 'unpick', to: 4 }),
    event(4, { kind: 'note', step: 4, text: 'a knot' }),
  ];
  const state = folded(log);
  expect(folded([...log].reverse())).toEqual(state);
  expect(folded([...log, ...log])).toEqual(state);
  expect(folded(log.slice(3), folded(log.slice(0, 3)))).toEqual(state);
});

test('an idle hour is left out of a sitting, and her word stands above the clock', () => {
  const at = (minutes: number) => ({ at: new Date(Date.UTC(2026, 0, 5, 19, minutes)).toISOString() });
  const log = [
    event(1, { kind: 'sit', what: 'start' }, at(0)),
    event(2, { kind: 'next', step: 0 }, at(4)),
    event(3, { kind: 'next', step: 1 }, at(64)),
    event(4, { kind: 'sit', what: 'stop' }, at(66)),
  ];
  const state = folded(log);
  expect(state.sittings.map(minutesOf)).toEqual([6]);
  const corrected = after(state, event(5, { kind: 'hours', sitting: log[0]!.id, minutes: 50 }));
  expect(corrected.sittings.map(minutesOf)).toEqual([50]);
});

describe('golden logs', () => {
  const path = new URL('../wire/golden/chair.json', import.meta.url);
  const golden = existsSync(path)
    ? (JSON.parse(readFileSync(path, 'utf8')) as { name: string; events: ChairEvent[]; state: unknown }[])
    : [];
  test('nothing comes to nothing', () => expect(folded([])).toEqual(nothingDone()));
  for (const each of golden) test(each.name, () => expect(folded(each.events)).toEqual(each.state));
});
