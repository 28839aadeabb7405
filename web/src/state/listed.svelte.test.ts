import { flushSync } from 'svelte';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Away } from '../wire/client';
import { isCalled, Listed } from './listed.svelte';
import { notices } from './notices.svelte';

let leave = () => {};
beforeEach(() => {
  vi.useFakeTimers();
  notices.list = [];
});
afterEach(() => {
  leave();
  vi.useRealTimers();
});

/** A page with a list on it, just opened. */
function page<T>(ask: () => Promise<T>): Listed<T> {
  let list: Listed<T> | undefined;
  leave = $effect.root(() => {
    list = new Listed(ask);
  });
  flushSync();
  return list!;
}

test('is there as soon as the studio answers', async () => {
  const list = page(() => Promise.resolve(['one']));
  expect(list.found).toBeNull();
  await vi.advanceTimersByTimeAsync(0);
  expect([list.found, list.unreachable]).toEqual([['one'], false]);
});

test('is asked again until the studio is back, and no more when the page is left', async () => {
  const ask = vi.fn(() => Promise.reject<string[]>(new Away('The studio does not answer.')));
  const list = page(ask);
  await vi.advanceTimersByTimeAsync(3100);
  expect([list.unreachable, ask.mock.calls.length, notices.list.length]).toEqual([true, 3, 0]);
  ask.mockResolvedValue(['one']);
  await vi.advanceTimersByTimeAsync(1500);
  expect([list.found, list.unreachable]).toEqual([['one'], false]);
  await vi.advanceTimersByTimeAsync(6000);
  expect(ask).toHaveBeenCalledTimes(4);
  ask.mockRejectedValue(new Away('The studio does not answer.'));
  await list.load();
  leave();
  await vi.advanceTimersByTimeAsync(6000);
  expect(ask).toHaveBeenCalledTimes(5);
});

test('asks anew when what it asks for changes, and shows the newest answer only', async () => {
  let away = $state(false);
  const slow = new Map([
    [false, 500],
    [true, 10],
  ]);
  const list = page(() => {
    const those = away;
    return new Promise<string>((answer) => setTimeout(() => answer(those ? 'put away' : 'in use'), slow.get(those)));
  });
  away = true;
  flushSync();
  await vi.advanceTimersByTimeAsync(600);
  expect(list.found).toBe('put away');
});

test('says what went wrong and keeps what was there', async () => {
  const ask = vi.fn(() => Promise.resolve('there'));
  const list = page(ask);
  await vi.advanceTimersByTimeAsync(0);
  ask.mockRejectedValue(new Error('The drawer is full.'));
  await list.load();
  expect([list.found, list.unreachable]).toEqual(['there', false]);
  expect(notices.list.map((each) => [each.said, each.wrong])).toEqual([['The drawer is full.', true]]);
});

test('puts away with a way back', async () => {
  const put = vi.fn<(away: boolean) => Promise<void>>(() => Promise.resolve());
  const ask = vi.fn(() => Promise.resolve(0));
  const list = page(ask);
  await list.putAway({ away: false }, 'Dusk blue', put);
  const [said] = notices.list;
  expect([said!.said, said!.back!.said]).toEqual(['“Dusk blue” is put away.', 'Bring back']);
  said!.back!.act();
  await vi.advanceTimersByTimeAsync(0);
  expect(put.mock.calls).toEqual([[true], [false]]);
  expect(ask).toHaveBeenCalledTimes(3);

  put.mockRejectedValueOnce(new Error('It is in hand elsewhere.'));
  await list.putAway({ away: true }, 'Dusk blue', put);
  expect(notices.list.at(-1)).toMatchObject({ said: 'It is in hand elsewhere.', wrong: true });
});

test('finds by any words in any order', () => {
  const words = ['Dusk blue', 'cotton', null, 5];
  expect(['', 'blue', 'COTTON dusk', '5', 'dusk wool'].map((search) => isCalled(search, words))).toEqual([
    true,
    true,
    true,
    true,
    false,
  ]);
});
