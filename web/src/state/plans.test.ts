import { expect, test } from 'vitest';
import { PlanHand, wished, type Taken } from './plans.svelte';

const navy: Taken = { name: 'navy', colour: '#1d2b5a', times: 'as it comes', count: 3 };

test('how often a thread is used becomes the least and the most', () => {
  expect(wished(navy)).toEqual({ name: 'navy', least: 1 });
  expect(wished({ ...navy, times: 'exactly' })).toEqual({ name: 'navy', least: 3, most: 3 });
  expect(wished({ ...navy, times: 'at least' })).toEqual({ name: 'navy', least: 3 });
  expect(wished({ ...navy, times: 'at most' })).toEqual({ name: 'navy', least: 0, most: 3 });
});

test('a thread from the Drawer comes along, under a name the design does not have', () => {
  const hand = new PlanHand();
  hand.takeFresh({ name: 'navy', colour: '#000080' }, ['navy']);
  expect(hand.wishes.threads).toEqual([{ name: 'navy 2', least: 1, new: { name: 'navy 2', colour: '#000080' } }]);
});

test('a layer without several motifs is planned by its stripes, neighbours unlike', () => {
  const hand = new PlanHand();
  hand.layers = [{ name: 'quay', motifs: 1, stripes: 3, rows: 6, threads: ['teal', 'cream'] }];
  hand.chooseLayer('quay');
  expect([hand.by, hand.order, hand.count]).toEqual(['stripes', 'contrast', 3]);
  hand.choose('rows');
  expect(hand.neighboursDiffer).toBe(false);
  expect(hand.wishes.opposite).toBe('any');
});
