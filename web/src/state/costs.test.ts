import { describe, expect, it } from 'vitest';
import type { Costs } from '../wire/price';
import { emptyForm, fieldSaid, formOf, saidOf, shares } from './costs';

const KEPT: Costs = {
  rate: '18.50 EUR',
  threads: [],
  whole_skeins: true,
  items: [{ name: 'box', cost: '3 EUR' }],
  base: { core: 'hulls', packs: [{ name: 'sewing thread', price: '2.20 EUR', metres: 500 }] },
  overhead: { percent: '10', per_hour: '1 EUR' },
  margin: '0',
  commission: '40',
  step: '5 EUR',
  paper: 'a4',
};

describe('her costs as a form', () => {
  it('come back as they were kept', () => {
    expect(JSON.parse(JSON.stringify(saidOf(formOf(KEPT))))).toEqual({
      rate: '18.50 EUR',
      whole_skeins: true,
      items: [{ name: 'box', cost: '3 EUR' }],
      base: { core: 'hulls', packs: [{ name: 'sewing thread', price: '2.20 EUR', metres: 500 }] },
      overhead: { percent: '10', per_hour: '1 EUR' },
      commission: '40',
      step: '5 EUR',
    });
  });

  it('may be typed with a decimal comma, and leave fields empty', () => {
    const form = { ...emptyForm(), rate: '18,5', items: [{ name: '', cost: '' }] };
    expect(JSON.parse(JSON.stringify(saidOf(form)))).toEqual({
      rate: '18.5 EUR',
      whole_skeins: false,
      items: [],
      overhead: {},
    });
  });

  it('drop the price of a core she changed for another', () => {
    const form = { ...formOf(KEPT), core: 'foam' };
    form.packs['hulls'] = { price: '2', amount: '500', unit: 'g' };
    expect(saidOf(form)['base']).toMatchObject({ core: 'foam', packs: [{ name: 'sewing thread' }] });
  });

  it('send what is no number as she typed it, so that the studio can say what is wrong', () => {
    expect(saidOf({ ...emptyForm(), rate: '20', margin: 'some' })['margin']).toBe('some');
  });
});

describe('the bar', () => {
  it('shares out what the price is made of, and leaves rounding out', () => {
    const lines = [
      { kind: 'hours', likely: '75.00' },
      { kind: 'rounding', likely: '-1.20' },
      { kind: 'commission', likely: '25.00' },
    ];
    expect(shares(lines)).toEqual([0.75, 0, 0.25]);
    expect(shares([{ kind: 'hours', likely: '0' }])).toEqual([0]);
  });
});

it('names the field a refusal belongs to', () => {
  expect(fieldSaid('items[0].cost')).toBe('Other materials');
  expect(fieldSaid('elsewhere')).toBe('');
});
