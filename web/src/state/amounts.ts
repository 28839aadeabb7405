/** Lengths of thread as a person says them. */

/** "12.5 m", "80 cm". */
export function metres(mm: number): string {
  if (Math.abs(mm) < 1000) return `${Math.round(mm / 10)} cm`;
  const m = mm / 1000;
  return `${m < 20 ? Math.round(m * 10) / 10 : Math.round(m)} m`;
}

/** Millimetres of what she wrote: "25 m", "25", "80cm", "12,5"; a bare number is metres. Null where it is none. */
export function mmOf(text: string): number | null {
  const found = /^\s*(-?[\d.,]+)\s*(m|cm|mm)?\s*$/i.exec(text);
  const number = Number(found?.[1]?.replace(',', '.'));
  if (!found || !Number.isFinite(number)) return null;
  return number * { m: 1000, cm: 10, mm: 1 }[(found[2] ?? 'm').toLowerCase() as 'm' | 'cm' | 'mm'];
}
