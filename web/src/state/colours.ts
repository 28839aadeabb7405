/** What the eye makes of two colours: contrast (WCAG 2.2), and how three kinds of colour vision see them. */

const channels = (hex: string): [number, number, number] => {
  const value = parseInt(/^#?([0-9a-f]{6})$/i.exec(hex.trim())?.[1] ?? '808080', 16);
  return [(value >> 16) & 255, (value >> 8) & 255, value & 255];
};

const linear = (c: number): number => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4);

/** Relative luminance, 0 to 1. */
export function luminance(hex: string): number {
  const [r, g, b] = channels(hex);
  return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
}

/** Contrast ratio, 1 to 21. */
export function contrast(one: string, other: string): number {
  const [a, b] = [luminance(one), luminance(other)];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

/** How plainly a thread stands out against the ground, in words. */
export function standsOut(ratio: number): 'stands out' | 'quiet' | 'hard to see' {
  if (ratio >= 3) return 'stands out';
  return ratio >= 1.6 ? 'quiet' : 'hard to see';
}

/** Names and 3 × 3 matrices in linear light for full-strength deficiencies (Machado and others 2009, from memory). */
export const SIGHTS = {
  protan: {
    said: 'No red cones',
    rows: [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  },
  deutan: {
    said: 'No green cones',
    rows: [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  },
  tritan: {
    said: 'No blue cones',
    rows: [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
  },
} as const;
export type Sight = keyof typeof SIGHTS;

/** The 20 numbers an SVG colour matrix wants. */
export const sightMatrix = (sight: Sight): string => {
  const m = SIGHTS[sight].rows;
  return [0, 3, 6].map((k) => `${m[k]} ${m[k + 1]} ${m[k + 2]} 0 0`).join(' ') + ' 0 0 0 1 0';
};
