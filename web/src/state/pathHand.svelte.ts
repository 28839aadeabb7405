/** Drawing her own path: touches become spots, spots become a layer. */

import { spots, type Spot } from '../wire/client';
import type { Vec3 } from '../wire/scene';
import type { Desk } from './desk.svelte';
import { layersOf } from './edits';
import { notices } from './notices.svelte';
import { isPath, pathBegun, visitsOf, withVisits, type Visit } from './path';

export interface Handle {
  /** Place in the path, from 0. */
  k: number;
  spot: Spot;
}

export class PathHand {
  readonly #desk: Desk;
  /** The first spot of a path that is no layer yet. */
  first = $state.raw<Spot | null>(null);
  handles = $state.raw<Handle[]>([]);
  said = $state('');
  #asked = 0;

  constructor(desk: Desk) {
    this.#desk = desk;
  }

  get index(): number | null {
    const at = this.#desk.session.layer;
    return at !== null && isPath(layersOf(this.#desk.document)[at]) ? at : null;
  }

  get visits(): Visit[] {
    const layer = this.index === null ? undefined : layersOf(this.#desk.document)[this.index];
    return layer ? visitsOf(layer) : [];
  }

  /** The spot that a touch means, added at the end. */
  async touch(xyz: Vec3): Promise<void> {
    const found = await this.#meant(xyz);
    if (found) this.add(found);
  }

  add(spot: Spot): void {
    const { index, visits } = this;
    if (index !== null) {
      if (visits.at(-1)?.at === spot.address) return;
      this.#write(index, [...visits, { at: spot.address }], 'add a spot');
    } else if (this.first === null) this.first = spot;
    else if (this.first.address !== spot.address) this.#begin(this.first, spot);
    this.said = `Spot ${index === null ? (this.first ? 1 : 2) : visits.length + 1}: ${spot.words}`;
  }

  #begin(first: Spot, next: Spot): void {
    const desk = this.#desk;
    desk.change(pathBegun(desk.document, [first.address, next.address]), 'begin a path');
    desk.session.layer = layersOf(desk.document).length - 1;
    desk.session.panel = 'layer';
    this.first = null;
  }

  /** Spot `k` let go at another place. */
  async drop(k: number, xyz: Vec3): Promise<void> {
    const found = await this.#meant(xyz);
    const { index, visits } = this;
    if (!found || index === null) return;
    this.#write(
      index,
      visits.map((visit, n) => (n === k ? { ...visit, at: found.address } : visit)),
      'move a spot',
    );
    this.said = `Spot ${k + 1} is now at ${found.words}`;
  }

  /** Takes the last spot away again; a path of two is taken away whole by undo. */
  back(): void {
    const { index, visits } = this;
    if (index === null) this.first = null;
    else if (visits.length > 2) this.#write(index, visits.slice(0, -1), 'take the last spot away');
  }

  change(visits: readonly Visit[], said: string): void {
    if (this.index !== null) this.#write(this.index, visits, said);
  }

  /** Where the spots lie on the ball, for their handles. */
  async find(): Promise<void> {
    const asked = ++this.#asked;
    const visits = this.visits;
    const names = visits.map((visit) => visit.at);
    const found = names.length > 0 ? (await spots(this.#desk.document, null, names)).named : [];
    if (asked !== this.#asked) return;
    this.handles = found.flatMap((spot, k) => (spot ? [{ k, spot }] : []));
  }

  async #meant(xyz: Vec3): Promise<Spot | null> {
    try {
      return (await spots(this.#desk.document, xyz)).near ?? null;
    } catch (error) {
      notices.wrong(error);
      return null;
    }
  }

  #write(index: number, visits: readonly Visit[], said: string): void {
    this.#desk.change(withVisits(this.#desk.document, index, visits), said);
  }
}
