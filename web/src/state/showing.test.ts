import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Refused } from '../wire/client';
import type { PlacedCase } from '../wire/showing';
import { boards, drawnBalls, settled, shelfAt, writtenAbove } from './casePlan';
import { Writing } from './writing.svelte';

const ball = { title: '', back: 150, diameter: 80, stand: 20, facing: '', turn: '', up: 60 };
const PLAN: PlacedCase = {
  name: 'Window',
  width: 600,
  depth: 300,
  unsized: [],
  findings: ['HL-1 and HL-3 on shelf 1 would overlap by 4 mm; move one.'],
  shelves: [
    { shelf: 1, clear: 300, from_floor: null, gaps: [], balls: [{ ...ball, number: 'HL-1', x: 100 }] },
    { shelf: 2, clear: 250, from_floor: null, gaps: [], balls: [{ ...ball, number: 'HL-10', x: 300 }] },
  ],
};
const shown = (number: string, more: object = {}) => ({
  number,
  case: 'Window',
  shelf: 1,
  stand: '20 mm',
  facing: '',
  turn: '',
  ...more,
});

describe('a case drawn to scale', () => {
  it('stacks shelves from the top down', () => {
    expect(boards(PLAN, 30).map((line) => line.y)).toEqual([300, 592]);
  });
  it('stands a ball on its stand, where she has put it by now', () => {
    const [one, ten] = drawnBalls(PLAN, boards(PLAN, 30), [
      shown('HL-1', { at: '12 cm' }),
      shown('HL-10', { shelf: 2 }),
    ]);
    expect([one!.cx, one!.cy, one!.amiss]).toEqual([120, 240, true]);
    expect([ten!.cx, ten!.cy, ten!.amiss]).toEqual([300, 532, false]);
  });
  it('writes a number above its ball where it would run into its neighbour', () => {
    const at = (number: string, cx: number, shelf = 1) => ({ number, shelf, cx });
    const balls = [at('c', 150), at('a', 100), at('b', 130), at('d', 135, 2)];
    expect([...writtenAbove(balls, 40)]).toEqual(['b']);
  });
  it('keeps a ball inside, on whole steps', () => {
    expect([settled(-3, 600), settled(123, 600), settled(601, 600), settled(123, 600, 1)]).toEqual([0, 125, 600, 123]);
    expect([shelfAt(boards(PLAN, 30), 10), shelfAt(boards(PLAN, 30), 400), shelfAt(boards(PLAN, 30), 9999)]).toEqual([
      1, 2, 2,
    ]);
  });
});

describe('a form that is kept as she types', () => {
  const kept = new Map<string, string>();
  beforeEach(() => {
    kept.clear();
    vi.useFakeTimers();
    vi.stubGlobal('localStorage', {
      getItem: (key: string) => kept.get(key) ?? null,
      setItem: (key: string, text: string) => kept.set(key, text),
      removeItem: (key: string) => kept.delete(key),
    });
  });
  afterEach(() => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
  });
  const start = { id: 'a', version: 1, body: { title: 'Buoy', price: null as string | null } };

  it('keeps the rest where one field is wrong', async () => {
    const sent: object[] = [];
    const hand = new Writing(
      start,
      async ({ body }) => {
        sent.push(body);
        if (body.price === '240') throw new Refused(422, { where: 'price', what: 'no money' });
        return { ...start, version: 2, body };
      },
      'tab',
    );
    hand.change({ price: '240' });
    hand.change({ title: 'Bell buoy' });
    await vi.advanceTimersByTimeAsync(1000);
    expect(sent.at(-1)).toEqual({ title: 'Bell buoy', price: null });
    expect([hand.state, hand.at('price'), hand.at('title')]).toEqual(['kept', 'no money', null]);
    expect(hand.now.price).toBe('240');
    expect(JSON.parse(kept.get('polestitch-writing-a')!).body.price).toBe('240');
    hand.change({ price: '240 EUR' });
    await vi.advanceTimersByTimeAsync(1000);
    expect([hand.at('price'), kept.size]).toEqual([null, 0]);
  });

  it('says that another window was quicker, and writes over nothing until told', async () => {
    const bases: number[] = [];
    const hand = new Writing(
      start,
      async ({ base, body }) => {
        bases.push(base);
        if (base < 5) throw new Refused(409, { where: 'version', what: 'another window' });
        return { ...start, version: 6, body };
      },
      'tab',
    );
    hand.change({ title: 'Mine' });
    await vi.advanceTimersByTimeAsync(5000);
    expect([hand.state, bases]).toEqual(['apart', [1]]);
    hand.change({ title: 'Mine still' });
    await vi.advanceTimersByTimeAsync(5000);
    expect(bases).toEqual([1]);
    hand.over(5);
    await vi.advanceTimersByTimeAsync(1000);
    expect([hand.state, bases, hand.now.title]).toEqual(['kept', [1, 5], 'Mine still']);
  });
});
