/** Millimetres as the maker reads them. The server reads what she writes; here lengths are only shown. */

const FRACTIONS: Record<number, string> = { 0: '', 1: '⅛', 2: '¼', 3: '⅜', 4: '½', 5: '⅝', 6: '¾', 7: '⅞' };

/** "12½ mm", or "½ in" to the nearest eighth. */
export function said(mm: number, units: 'mm' | 'in' = 'mm'): string {
  if (units === 'in') {
    const eighths = Math.round((mm / 25.4) * 8);
    const whole = Math.floor(eighths / 8);
    return `${whole || eighths % 8 === 0 ? whole : ''}${FRACTIONS[eighths % 8]} in`;
  }
  const halves = Math.round(mm * 2);
  return `${Math.floor(halves / 2) || halves % 2 === 0 ? Math.floor(halves / 2) : ''}${halves % 2 ? '½' : ''} mm`;
}

const MM: Record<string, number> = { mm: 1, cm: 10, m: 1000, in: 25.4, yd: 914.4 };

/** Millimetres of a written length with a unit, or none. */
export function inMm(text: string): number | null {
  const match = /^\s*(?:(\d+)\s+)?(\d*\.?\d+)(?:\/(\d+))?\s*(mm|cm|m|in|yd)\s*$/.exec(text);
  if (!match) return null;
  const value = Number(match[1] ?? 0) + Number(match[2]) / Number(match[3] ?? 1);
  return value * MM[match[4]!]!;
}
