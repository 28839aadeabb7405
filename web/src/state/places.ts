/** Which marked points a layer's `where` names, and how a set of them is written shortest. */

import type { ScenePoint } from '../wire/scene';

const plural = (kind: string): string => (kind === 'obi' ? 'obi points' : `${kind}s`);

/** The points `where` names, as far as it only names points. */
export function pointsNamed(where: string | readonly string[], points: readonly ScenePoint[]): string[] {
  const texts = typeof where === 'string' ? [where] : where;
  return texts.flatMap((text) => named(text.trim(), points));
}

function named(text: string, points: readonly ScenePoint[]): string[] {
  const all = /^all (?:the )?(.+)$/i.exec(text);
  if (all)
    return points
      .filter((point) => all[1] === 'points' || plural(point.kind) === all[1]!.toLowerCase())
      .map((point) => point.name);
  const several = /^(centre|triangle|diamond|obi)s?(?: points?)? ([\d ,and to]+)$/i.exec(text);
  if (several) return numbers(several[2]!).map((n) => `${several[1]!.toLowerCase()} ${n}`);
  if (/ and /.test(text) && !text.includes(','))
    return text.split(' and ').flatMap((part) => named(part.trim(), points));
  const one = points.find((point) => point.name.toLowerCase() === text.toLowerCase());
  return one ? [one.name] : [];
}

function numbers(text: string): number[] {
  return [...text.matchAll(/(\d+)(?: to (\d+))?/g)].flatMap(([, first, last]) => {
    const [from, to] = [Number(first), Number(last ?? first)];
    return Array.from({ length: Math.max(0, to - from) + 1 }, (_, k) => from + k);
  });
}

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

/** The shortest way to write these points. */
export function written(names: readonly string[], points: readonly ScenePoint[]): string | string[] {
  const set = new Set(names);
  if (set.size === 1) return names[0]!;
  if (set.size === 2 && set.has('N') && set.has('S')) {
    const centres = points.filter((point) => point.kind === 'centre').length;
    return centres === 2 ? 'N and S' : ['N', 'S'];
  }
  for (const kind of new Set(points.map((point) => point.kind))) {
    const same = points.filter((point) => point.kind === kind).map((point) => point.name);
    if (same.length === set.size && same.every((name) => set.has(name))) return `all ${plural(kind)}`;
  }
  return points.map((point) => point.name).filter((name) => set.has(name));
}
