/** One design on the Bench: its history, what the engine makes of it, and keeping every change. */

import { Away, opened, Refused, saved, type Card } from '../wire/client';
import type { DesignDocument } from '../wire/design';
import { History } from './history.svelte';
import { Product } from './product.svelte';
import { Session } from './session.svelte';

export type Keeping = 'kept' | 'keeping' | 'away' | 'refused';

const AGAIN_MS = 1200;
const draftKey = (id: string) => `polestitch-draft-${id}`;

/** One name a tab, so that the server can tell two windows apart; a reload keeps it. */
export function tabName(): string {
  const kept = sessionStorage.getItem('polestitch-tab') ?? crypto.randomUUID();
  sessionStorage.setItem('polestitch-tab', kept);
  return kept;
}

interface Draft {
  base: number;
  document: DesignDocument;
}

export class Desk {
  readonly id: string;
  readonly history: History;
  readonly product: Product;
  readonly session = new Session();
  readonly tab = tabName();
  card = $state.raw<Card>() as Card;
  keeping = $state<Keeping>('kept');
  /** The change of another window and ours differ: ours was kept as this design. */
  apart = $state.raw<Card | null>(null);
  saidNo = $state<string | null>(null);
  #base: number;
  #kept: DesignDocument;
  #sending = false;
  #again: ReturnType<typeof setTimeout> | undefined;
  #closed = false;

  constructor(card: Card, document: DesignDocument, base: number) {
    this.id = card.id;
    this.card = card;
    this.#base = base;
    this.#kept = document;
    this.history = new History(document);
    // Questions are counted from 1 at every load, so each load asks under a name of its own.
    this.product = new Product(crypto.randomUUID());
    this.session.layer = (document.layers?.length ?? 0) > 0 ? 0 : null;
    if (this.session.layer === null) this.session.panel = 'ball';
  }

  /** The design `id`, with a change that never reached the server before a reload brought back. */
  static async open(id: string): Promise<Desk> {
    const { card, document, base } = await opened(id);
    const desk = new Desk(card, document, base);
    const text = localStorage.getItem(draftKey(id));
    if (text) {
      const draft = JSON.parse(text) as Draft;
      desk.#base = Math.min(draft.base, base);
      desk.history.change(draft.document, 'the change from before');
      void desk.#keep();
    }
    void desk.product.ask(desk.history.now);
    return desk;
  }

  get document(): DesignDocument {
    return this.history.now;
  }

  get revision(): number {
    return this.#base;
  }

  /** Replaces the document, builds it and keeps it. */
  change(document: DesignDocument, said: string, run: string | null = null): void {
    const before = this.history.now;
    this.history.change(document, said, run);
    if (this.history.now !== before) this.#changed();
  }

  undo(): void {
    if (this.history.undo()) this.#changed();
  }

  redo(): void {
    if (this.history.redo()) this.#changed();
  }

  #changed(): void {
    const count = this.document.layers?.length ?? 0;
    if (this.session.layer !== null && this.session.layer >= count) this.session.layer = count > 0 ? count - 1 : null;
    this.session.finding = null;
    void this.product.ask(this.document);
    void this.#keep();
  }

  /** Sends the newest document; what changes meanwhile is sent next, and nothing queues. */
  async #keep(): Promise<void> {
    const document = this.history.now;
    if (document === this.#kept && this.keeping === 'kept') return;
    localStorage.setItem(draftKey(this.id), JSON.stringify({ base: this.#base, document } satisfies Draft));
    if (this.#sending) return;
    this.#sending = true;
    this.keeping = 'keeping';
    try {
      const { revision } = await saved(this.id, { base: this.#base, document, tab: this.tab });
      this.#base = revision;
      this.#settled(document);
    } catch (error) {
      this.#notKept(error, document);
    }
    this.#sending = false;
    if (this.history.now !== this.#kept && this.#goesOn()) void this.#keep();
  }

  #goesOn(): boolean {
    return !this.#closed && this.keeping === 'kept';
  }

  #settled(document: DesignDocument): void {
    this.#kept = document;
    this.keeping = 'kept';
    this.saidNo = null;
    if (this.history.now === document) localStorage.removeItem(draftKey(this.id));
    if (this.product.unreachable) void this.product.ask(this.history.now);
  }

  #notKept(error: unknown, document: DesignDocument): void {
    if (error instanceof Refused && error.status === 409 && error.body['kept_as']) {
      this.apart = error.body['kept_as'] as Card; // this window goes on with that design
      this.close();
      this.#settled(document);
      localStorage.removeItem(draftKey(this.id));
      return;
    }
    this.keeping = error instanceof Away ? 'away' : 'refused';
    this.saidNo = error instanceof Error ? error.message : String(error);
    clearTimeout(this.#again);
    if (!this.#closed) this.#again = setTimeout(() => void this.#keep(), AGAIN_MS);
  }

  close(): void {
    this.#closed = true;
    clearTimeout(this.#again);
  }
}
