/** One piece in hand: its steps as they are loaded, what is done, and what still waits to be told. */

import * as wire from '../wire/chair';
import { Away, Refused } from '../wire/client';
import type { Scene } from '../wire/scene';
import { after, folded, nothingDone } from './fold';
import { notices } from './notices.svelte';
import { deviceName, drop, keepTold, keepWaiting, kept, freshId, nextSequence } from './outbox';

/** Steps asked for at once, and how near the edge the next lot is asked for. */
const LOT = 200;
const EDGE = 60;
const AGAIN_MS = 2000;
/** Most events sent at once. */
const PARCEL = 400;

export class PieceInHand {
  readonly id: string;
  opened = $state.raw<wire.PieceOpened | null>(null);
  scene = $state.raw<Scene | null>(null);
  state = $state.raw<wire.ChairState>(nothingDone());
  waiting = $state.raw<wire.ChairEvent[]>([]);
  away = $state(false);
  wrong = $state('');
  /** Steps by number; a new map each time a lot arrives. */
  steps = $state.raw<ReadonlyMap<number, wire.HandStep>>(new Map());
  #told = nothingDone();
  #asked = new Set<number>();
  #sending = false;
  /** A refusal is said once, not every time it is asked again. */
  #said = false;
  #ended = false;
  #timer: ReturnType<typeof setTimeout> | undefined;
  readonly #device = deviceName();

  constructor(id: string) {
    this.id = id;
  }

  get place(): number {
    return Math.min(this.state.place, this.count);
  }
  get count(): number {
    return this.opened?.counts.steps ?? 0;
  }
  get step(): wire.HandStep | null {
    return this.steps.get(this.place) ?? null;
  }

  /** Opens the piece from the studio, or from what this browser kept. */
  async begin(): Promise<void> {
    const before = await kept(this.id);
    this.waiting = before.waiting;
    if (before.state) this.#take(before.state);
    await this.#open();
    this.#soon(0);
  }

  async #open(): Promise<void> {
    try {
      const opened = await wire.piece(this.id);
      this.opened = opened;
      if (opened.state.clock >= this.#told.clock) this.#take(opened.state);
      this.around(this.place);
      this.scene = await wire.pieceScene(this.id);
      this.wrong = '';
    } catch (error) {
      if (error instanceof Away) this.away = true;
      else this.wrong = error instanceof Error ? error.message : String(error);
    }
  }

  /** Opens it again, after its plan changed. */
  async afresh(): Promise<void> {
    this.steps = new Map();
    this.#asked.clear();
    await this.#open();
  }

  #take(state: wire.ChairState): void {
    this.#told = state;
    this.state = folded(this.waiting, state);
    void keepTold(this.id, state);
  }

  /** Loads the lots of steps near `place` that are not here yet. */
  around(place: number): void {
    if (!this.count) return;
    for (const at of [place, place + EDGE, place - EDGE]) {
      const lot = Math.floor(Math.max(0, Math.min(at, this.count - 1)) / LOT);
      if (!this.#asked.has(lot)) void this.#lot(lot);
    }
  }

  async #lot(lot: number): Promise<void> {
    this.#asked.add(lot);
    try {
      const { steps } = await wire.steps(this.id, lot * LOT, LOT);
      const all = new Map(this.steps);
      for (const step of steps) all.set(step.n, step);
      this.steps = all;
    } catch (error) {
      this.#asked.delete(lot);
      if (error instanceof Away) this.away = true;
      else notices.wrong(error);
    }
  }

  /** Something she did: seen at once, kept here, told as soon as the studio answers. */
  did(deed: wire.Deed): string {
    const event: wire.ChairEvent = {
      ...deed,
      id: freshId(),
      device: this.#device,
      seq: nextSequence(),
      clock: this.state.clock + 1,
      at: new Date().toISOString(),
    };
    this.state = after(this.state, event);
    this.waiting = [...this.waiting, event];
    void keepWaiting(this.id, event);
    this.around(this.place);
    this.#soon(0);
    return event.id;
  }

  next(): void {
    if (this.place < this.count) this.did({ kind: 'next', step: this.place });
  }
  back(): void {
    if (this.place > 0) this.did({ kind: 'back', step: this.place });
  }

  #soon(ms: number): void {
    if (this.#ended) return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#tell(), ms);
  }

  async #tell(): Promise<void> {
    if (this.#sending || this.#ended) return;
    this.#sending = true;
    let pause = AGAIN_MS;
    try {
      const parcel = this.waiting.slice(0, PARCEL);
      const answer = await wire.told(this.id, parcel);
      const taken = new Set(answer.accepted);
      const sent = new Set(parcel.map((event) => event.id));
      this.waiting = this.waiting.filter((event) => !taken.has(event.id) && !sent.has(event.id));
      for (const event of parcel) void drop(event.id);
      const news = parcel.length > 0 || JSON.stringify(answer.state) !== JSON.stringify(this.#told);
      if (news) this.#take(answer.state);
      if (this.away) void this.#back();
      this.away = false;
      if (this.waiting.length > 0) pause = 0;
    } catch (error) {
      if (error instanceof Away) this.away = true;
      else if (error instanceof Refused && error.status === 401) this.wrong = error.message;
      else if (!this.#said) notices.wrong(error);
      this.#said = !(error instanceof Away);
    }
    this.#sending = false;
    this.#soon(pause);
  }

  /** The studio answers again: what is missing is asked for. */
  async #back(): Promise<void> {
    if (!this.opened || !this.scene) await this.#open();
    this.around(this.place);
  }

  end(): void {
    this.#ended = true;
    clearTimeout(this.#timer);
  }
}
