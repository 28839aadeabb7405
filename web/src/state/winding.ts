/** What she chose for winding a ball, kept in this browser; and figures as she reads them. */

import type { Parts, Span } from '../wire/winding';

const KEY = 'polestitch-winding';

export const USUAL: Parts = {
  core: 'hulls',
  core_around: '',
  noise: '',
  wraps: ['thick yarn', 'thin yarn', 'sewing thread'].map((name) => ({ name, amount: '' })),
  to_size: true,
};

/** What she chose last, or the usual ball. */
export function chosenParts(): Parts {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? 'null') as Partial<Parts> | null;
    return kept && Array.isArray(kept.wraps) && kept.wraps.length > 0 ? { ...USUAL, ...kept } : USUAL;
  } catch {
    return USUAL;
  }
}

export function keepParts(parts: Parts): void {
  localStorage.setItem(KEY, JSON.stringify(parts));
}

/** "36 to 51 g", or "40 g" where it is known. */
export function span(figure: Span, unit: string, digits = 0): string {
  const [low, high] = [figure.low.toFixed(digits), figure.high.toFixed(digits)];
  return low === high ? `${low} ${unit}` : `${low} to ${high} ${unit}`;
}

/** Lengths in a field as a list; a bare number takes her unit. */
export function lengthsIn(texts: readonly string[], unit: string): string[] {
  return texts
    .map((text) => text.trim().replace(',', '.'))
    .filter(Boolean)
    .map((text) => (/^[\d.]+$/.test(text) ? `${text} ${unit}` : text));
}

/** How many times larger a small deviation is drawn so that it is seen: a round figure. */
export function drawnLarger(off: number, radius: number): number {
  const wanted = (0.14 * radius) / Math.max(Math.abs(off), 1e-6);
  return [50, 30, 20, 15, 10, 8, 6, 5, 4, 3, 2].find((times) => times <= wanted) ?? 1;
}
