import { describe, expect, it } from 'vitest';
import type { ChosenSpec, DesignDocument } from '../wire/design';
import { netOf } from './nets';
import { withChoice } from './overHand.svelte';
import { pathBegun, shortest, visitMoved, visitsOf, withVisits } from './path';

const ball: DesignDocument = {
  format: 1,
  name: 'ball',
  ball: { around: '24 cm' },
  threads: [{ name: 'rope', colour: '#c8a24a' }],
  marking: { division: 'S8+obi' },
};

describe('her own path', () => {
  it('begins as an open layer of one row, and again under another name', () => {
    const once = pathBegun(ball, ['N', 'obi 1']);
    const twice = pathBegun(once, ['S', 'obi 2']);
    expect(twice.layers?.map((layer) => layer.name)).toEqual(['own path', 'own path 2']);
    expect(once.layers?.[0]?.params).toEqual({ path: ['N', 'obi 1'], closed: false });
  });
  it('writes a visit without marks as its address, and keeps marks', () => {
    expect(shortest({ at: 'N', take: 'bite', pass: '', step: true })).toBe('N');
    expect(shortest({ at: 'N', take: 'pin', pass: 'ou', step: false })).toEqual({
      at: 'N',
      take: 'pin',
      pass: 'ou',
      step: false,
    });
  });
  it('reads back what it wrote', () => {
    const visits = [{ at: 'N' }, { at: 'obi 1', pass: 'u' }, { at: 'S' }];
    const document = withVisits(pathBegun(ball, ['N', 'S']), 0, visits);
    expect(visitsOf(document.layers![0]!)).toEqual(visits);
    expect(ball.layers).toBeUndefined();
  });
  it('moves a visit within the ends of the list', () => {
    const visits = [{ at: 'a' }, { at: 'b' }, { at: 'c' }];
    expect(visitMoved(visits, 2, -1).map((visit) => visit.at)).toEqual(['a', 'c', 'b']);
    expect(visitMoved(visits, 0, -1).map((visit) => visit.at)).toEqual(['a', 'b', 'c']);
  });
});

describe('crossings settled by hand', () => {
  const choice: ChosenSpec = {
    place: 'N',
    row: 1,
    leg: 2,
    other: 'petals',
    other_place: 'N',
    other_row: 1,
    other_leg: 3,
    lies: 'under',
    at: 'this crossing',
  };
  it('keeps one entry for two threads and one reach', () => {
    const turned: ChosenSpec = { ...choice, lies: 'over' };
    expect(withChoice([choice], turned)).toEqual([turned]);
    expect(withChoice([choice], { ...choice, at: 'whole group' })).toHaveLength(2);
  });
});

describe('multi-face divisions', () => {
  // Goldberg's counts as makers name them: 32, 42, 72, 92, 122 on C10; 14 and 18 on C8.
  it.each([
    [10, 1, 1, 32],
    [10, 2, 0, 42],
    [10, 2, 1, 72],
    [10, 3, 0, 92],
    [10, 2, 2, 122],
    [8, 1, 1, 14],
    [8, 2, 0, 18],
  ])('C%i (%i,%i) has %i faces', (base, h, k, faces) => {
    expect(netOf({ base, h, k, perfect: false, equalised: false }).faces).toBe(faces);
  });
});
