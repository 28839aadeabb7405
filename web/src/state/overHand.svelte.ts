/** Over and under by touch: the crossing in hand, and turning it over. */

import { crossing, superseded, type Crossing, type FoundCrossing } from '../wire/client';
import type { ChosenSpec } from '../wire/design';
import type { Vec3 } from '../wire/scene';
import type { Desk } from './desk.svelte';
import { layersOf, withLayer } from './edits';
import { notices } from './notices.svelte';

export type Reach = ChosenSpec['at'];
export const REACHES: readonly Reach[] = ['this crossing', 'every like place', 'whole group'];
/** A touch this near to the crossing in hand means that crossing. */
const SAME = 0.06;

const KEY = ['place', 'row', 'leg', 'other', 'other_place', 'other_row', 'other_leg', 'at'] as const;
const sameThreads = (a: ChosenSpec, b: ChosenSpec) => KEY.every((key) => a[key] === b[key]);

/** The list with `choice` last; what it replaces is left out. */
export const withChoice = (list: readonly ChosenSpec[], choice: ChosenSpec): ChosenSpec[] => [
  ...list.filter((each) => !sameThreads(each, choice)),
  choice,
];

export class OverHand {
  readonly #desk: Desk;
  found = $state.raw<Crossing | null>(null);
  unsettled = $state.raw<FoundCrossing['unsettled']>([]);
  reach = $state<Reach>('this crossing');
  missed = $state(false);
  #asked = 0;

  constructor(desk: Desk) {
    this.#desk = desk;
  }

  /** A touch on a crossing shows it; a touch on the one that is shown turns it over. */
  async touch(xyz: Vec3): Promise<void> {
    const now = this.found;
    if (now && Math.hypot(...now.xyz.map((x, k) => x - xyz[k]!)) < SAME) await this.swap();
    else await this.ask(xyz);
  }

  async ask(xyz: Vec3 | null): Promise<void> {
    const asked = ++this.#asked;
    try {
      const answer = await crossing(this.#desk.document, xyz);
      if (asked !== this.#asked) return;
      this.unsettled = answer.unsettled;
      this.found = answer.crossing;
      this.missed = xyz !== null && answer.crossing === null;
    } catch (error) {
      if (!superseded(error)) notices.wrong(error);
    }
  }

  /** Asks again after a change of the document, for the crossing in hand. */
  again(): Promise<void> {
    return this.ask(this.found?.xyz ?? null);
  }

  async swap(): Promise<void> {
    const found = this.found;
    const desk = this.#desk;
    const layer = found ? layersOf(desk.document)[found.layer] : undefined;
    if (!found || !layer) return;
    const choice: ChosenSpec = { ...found.choice, at: this.reach };
    const crossings = withChoice(layer.crossings ?? [], choice);
    desk.change(withLayer(desk.document, found.layer, { crossings }), 'turn a crossing over');
    await this.again();
  }

  /** Takes every choice of the layer in hand away again. */
  clear(layer: number): void {
    const desk = this.#desk;
    desk.change(withLayer(desk.document, layer, { crossings: [] }), 'take back every crossing set by hand');
    void this.again();
  }
}
