/** Like places that are offered together. */

import type { ScenePoint } from '../wire/scene';

const plural = (kind: string): string => (kind === 'obi' ? 'obi points' : `${kind}s`);

/** Like places offered together: "all 12 centres". */
export function together(points: readonly ScenePoint[]): { said: string; where: string }[] {
  const kinds = [...new Set(points.map((point) => point.kind))];
  const offers = kinds.map((kind) => {
    const count = points.filter((point) => point.kind === kind).length;
    return { said: `all ${count} ${plural(kind)}`, where: `all ${plural(kind)}` };
  });
  const poles = ['N', 'S'].every((pole) => points.some((point) => point.name === pole));
  if (!poles) return offers;
  const both = { said: 'N and S', where: 'N and S' };
  return [both, ...offers.filter((offer) => offer.said !== 'all 2 centres')];
}
