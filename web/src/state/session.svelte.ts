/** What the maker looks at and holds: never saved with a design. */

import type { Sight } from './colours';
import type { Vec3 } from '../wire/scene';

export type Panel = 'layers' | 'layer' | 'ball' | 'colours' | 'findings';
export type Tool = 'turn' | 'pick' | 'rule' | 'path' | 'over';

export class Session {
  panel = $state<Panel>('layer');
  layer = $state<number | null>(null);
  tool = $state<Tool>('turn');
  /** Rows laid so far; none: all of them. */
  until = $state<number | null>(null);
  hidden = $state.raw<ReadonlySet<number>>(new Set());
  alone = $state(false);
  names = $state(false);
  pins = $state(false);
  lines = $state(false);
  ruler = $state.raw<Vec3[]>([]);
  finding = $state<number | null>(null);
  /** Turned to a place: a new object each time, so that asking twice turns twice. */
  face = $state.raw<{ xyz: Vec3 } | { rest: true } | null>(null);
  sight = $state<Sight | null>(null);

  /** Takes a tool in hand; taken again, it is put down. */
  take(tool: Tool): void {
    this.tool = this.tool === tool ? 'turn' : tool;
    this.ruler = [];
  }

  mute(layer: number): void {
    const hidden = new Set(this.hidden);
    if (!hidden.delete(layer)) hidden.add(layer);
    this.hidden = hidden;
  }

  /** Layers kept in step with the list when one moves. */
  movedLayer(from: number, to: number): void {
    const place = (k: number) => {
      if (k === from) return to;
      if (from < to) return k > from && k <= to ? k - 1 : k;
      return k >= to && k < from ? k + 1 : k;
    };
    this.hidden = new Set([...this.hidden].map(place));
    if (this.layer !== null) this.layer = place(this.layer);
  }

  measured(xyz: Vec3): void {
    this.ruler = this.ruler.length >= 2 ? [xyz] : [...this.ruler, xyz];
  }
}
