/** Multi-face divisions by their steps: how many faces, and the word the engine knows them by. */

export interface Net {
  /** The combination whose centres carry the faces with fewest sides. */
  base: number;
  h: number;
  k: number;
  perfect: boolean;
  equalised: boolean;
}

/** Faces gained by one of T = h² + hk + k². */
const PER_T: Record<number, number> = { 10: 10, 8: 4, 6: 2, 4: 4 };

export function netOf({ base, h, k, perfect, equalised }: Net): { name: string; faces: number } {
  const faces = (PER_T[base] ?? 10) * (h * h + h * k + k * k) + 2;
  const made = `${perfect ? ' perfect' : ''}${equalised ? ' equalised' : ''}`;
  return { faces, name: `C${base}/${faces}(${h},${k})${made}` };
}
