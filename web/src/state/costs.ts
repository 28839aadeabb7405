/** Her costs as fields of a form, and back as the studio keeps them. */

import type { Costs, SaidCosts } from '../wire/price';

export interface Item {
  name: string;
  cost: string;
}

export interface Pack {
  price: string;
  amount: string;
  unit: 'g' | 'm';
}

export interface CostsForm {
  currency: string;
  rate: string;
  wholeSkeins: boolean;
  items: Item[];
  core: string;
  packs: Record<string, Pack>;
  overhead: { percent: string; perHour: string; perPiece: string };
  margin: string;
  commission: string;
  step: string;
  shopFactor: string;
  taxPercent: string;
  taxName: string;
}

/** What may stand in the middle of a base, by the studio's names. */
export const CORES = [
  ['hulls', 'rice hulls'],
  ['foam', 'foam ball'],
  ['soft', 'socks, stockings or fibre'],
  ['wadding', 'cotton wadding'],
] as const;

/** Whether a material of the base is bought by weight alone. */
export const byWeight = (name: string): boolean => name === 'batting' || CORES.some(([core]) => core === name);

/** A form before she said anything. */
export function emptyForm(): CostsForm {
  return {
    currency: 'EUR',
    rate: '',
    wholeSkeins: false,
    items: [],
    core: '',
    packs: {},
    overhead: { percent: '', perHour: '', perPiece: '' },
    margin: '',
    commission: '',
    step: '',
    shopFactor: '',
    taxPercent: '',
    taxName: '',
  };
}

const amount = (money: string | null | undefined) => (money ? money.replace(/\s*[A-Za-z]{3}$/, '') : '');
const figure = (number: string | null | undefined) => (number && Number(number) !== 0 ? number : '');

/** The form of what the studio keeps. */
export function formOf(costs: Costs): CostsForm {
  const packs = (costs.base?.packs ?? []).map((pack): [string, Pack] => {
    const unit = pack.metres ? 'm' : 'g';
    return [pack.name, { price: amount(pack.price), amount: String(pack.metres ?? pack.grams ?? ''), unit }];
  });
  return {
    currency: costs.rate.slice(-3),
    rate: amount(costs.rate),
    wholeSkeins: costs.whole_skeins,
    items: costs.items.map((item) => ({ name: item.name, cost: amount(item.cost) })),
    core: costs.base?.core ?? '',
    packs: Object.fromEntries(packs),
    overhead: {
      percent: figure(costs.overhead.percent),
      perHour: amount(costs.overhead.per_hour),
      perPiece: amount(costs.overhead.per_piece),
    },
    margin: figure(costs.margin),
    commission: figure(costs.commission),
    step: amount(costs.step),
    shopFactor: costs.shop_factor ?? '',
    taxPercent: costs.tax?.percent ?? '',
    taxName: costs.tax?.name ?? '',
  };
}

/** What is sent: empty fields left out, decimal commas turned into points, nothing else mended. */
export function saidOf(form: CostsForm): SaidCosts {
  const plain = (text: string) => text.trim().replace(',', '.');
  const money = (text: string) => (text.trim() ? `${plain(text)} ${form.currency.trim()}` : undefined);
  const number = (text: string) => (text.trim() ? plain(text) : undefined);
  const other = (name: string) => name !== form.core && CORES.some(([core]) => core === name);
  const packs = Object.entries(form.packs).filter(
    ([name, pack]) => !other(name) && pack.price.trim() && pack.amount.trim(),
  );
  return {
    rate: money(form.rate) ?? form.currency,
    whole_skeins: form.wholeSkeins,
    items: form.items
      .filter((item) => item.name.trim() || item.cost.trim())
      .map((item) => ({ name: item.name.trim(), cost: money(item.cost) ?? '' })),
    base: form.core ? { core: form.core, packs: packs.map(([name, pack]) => packSaid(name, pack, money)) } : undefined,
    overhead: {
      percent: number(form.overhead.percent),
      per_hour: money(form.overhead.perHour),
      per_piece: money(form.overhead.perPiece),
    },
    margin: number(form.margin),
    commission: number(form.commission),
    step: money(form.step),
    shop_factor: number(form.shopFactor),
    tax: form.taxPercent.trim()
      ? { percent: number(form.taxPercent), name: form.taxName.trim() || undefined }
      : undefined,
  };
}

function packSaid(name: string, pack: Pack, money: (text: string) => string | undefined): SaidCosts {
  const much = Number(pack.amount.replace(',', '.'));
  return { name, price: money(pack.price), [pack.unit === 'm' ? 'metres' : 'grams']: much };
}

/** Where in the form a refusal of the studio belongs, in the form's own words. */
export function fieldSaid(where: string): string {
  const fields: [RegExp, string][] = [
    [/^rate/, 'Your hour'],
    [/^items/, 'Other materials'],
    [/^base/, 'The base'],
    [/^overhead/, 'Overhead'],
    [/^margin/, 'Margin'],
    [/^commission/, 'Commission'],
    [/^step/, 'Rounding'],
    [/^shop_factor/, 'A shop’s factor'],
    [/^tax/, 'Tax'],
    [/^at/, 'The price'],
  ];
  return fields.find(([pattern]) => pattern.test(where))?.[1] ?? '';
}

/** Parts of a bar as shares of the whole; what rounding takes away has none. */
export function shares(lines: readonly { kind: string; likely: string }[]): number[] {
  const amounts = lines.map((line) => (line.kind === 'rounding' ? 0 : Math.max(0, Number(line.likely))));
  const whole = amounts.reduce((sum, each) => sum + each, 0);
  return amounts.map((each) => (whole ? each / whole : 0));
}
