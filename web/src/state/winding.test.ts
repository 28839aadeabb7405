import { describe, expect, it } from 'vitest';
import { drawnLarger, lengthsIn, span } from './winding';

describe('figures of the base', () => {
  it('says a range, or one figure where both ends read the same', () => {
    expect(span({ low: 35.6, likely: 42, high: 50.9 }, 'g')).toBe('36 to 51 g');
    expect(span({ low: 40, likely: 40, high: 40.2 }, 'm')).toBe('40 m');
  });
  it('gives a bare reading her unit and leaves the others', () => {
    expect(lengthsIn(['247', ' ', '24,7 cm', '9.7'], 'in')).toEqual(['247 in', '24.7 cm', '9.7 in']);
  });
  it('draws a small deviation larger, never past the seventh part of the radius', () => {
    expect(drawnLarger(1, 40)).toBe(5);
    expect(drawnLarger(0.1, 40)).toBe(50);
    expect(drawnLarger(20, 40)).toBe(1);
    expect(drawnLarger(1.37, 39.5)).toBe(4);
    for (const off of [0.12, 0.3, 0.7, 2.6]) expect(off * drawnLarger(off, 40)).toBeLessThanOrEqual(0.14 * 40);
  });
});
