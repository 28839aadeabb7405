/** One class in hand: kept as it is typed, and worked out again after each change. */

import { Away, Refused } from '../wire/client';
import type { Wrong } from '../wire/scene';
import * as wire from '../wire/teaching';

const WAIT = 450; // ms without a key before it is written down

export class LessonInHand {
  words = $state<wire.ClassWords | null>(null);
  card = $state.raw<wire.ClassCard | null>(null);
  worked = $state.raw<wire.Worked | null>(null);
  /** What is not right yet, and where. */
  wrong = $state.raw<Wrong | null>(null);
  saving = $state<'kept' | 'typing' | 'away' | 'old'>('kept');
  busy = $state(false);
  gone = $state('');
  readonly #id: string;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #question = 0;
  #writing: Promise<void> = Promise.resolve();

  constructor(id: string) {
    this.#id = id;
  }

  async open(): Promise<void> {
    try {
      const found = await wire.openedClass(this.#id);
      this.words = found.document;
      this.#take(found);
      this.saving = 'kept';
      await this.#ask();
    } catch (error) {
      this.gone = error instanceof Error ? error.message : String(error);
    }
  }

  /** Her words instead of those that another window wrote meanwhile. */
  async keepMine(): Promise<void> {
    try {
      this.card = (await wire.openedClass(this.#id)).card;
      this.saving = 'typing';
      await this.write();
    } catch (error) {
      this.#refused(error);
    }
  }

  /** Something was typed. */
  touch(): void {
    this.saving = 'typing';
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.write(), WAIT);
  }

  /** Write it down now, one after another. */
  write(): Promise<void> {
    clearTimeout(this.#timer);
    this.#writing = this.#writing.then(() => this.#write());
    return this.#writing;
  }

  async #write(): Promise<void> {
    if (!this.words || !this.card || this.saving === 'kept' || this.saving === 'old') return;
    const sent = JSON.stringify(this.words);
    try {
      this.#take(await wire.savedClass(this.#id, JSON.parse(sent) as wire.ClassWords, this.card.number));
      this.saving = JSON.stringify(this.words) === sent ? 'kept' : 'typing';
      await this.#ask();
    } catch (error) {
      this.#refused(error);
    }
  }

  #take(found: wire.OpenedClass): void {
    this.card = found.card;
    this.wrong = found.wrong;
  }

  #refused(error: unknown): void {
    if (error instanceof Away) {
      this.saving = 'away';
      this.#timer = setTimeout(() => void this.write(), 2000);
    } else if (error instanceof Refused && error.status === 409) this.saving = 'old';
    else this.wrong = error instanceof Refused ? error.wrong : { where: '', what: String(error) };
  }

  async #ask(): Promise<void> {
    if (this.wrong) return;
    const question = ++this.#question;
    this.busy = true;
    try {
      const found = await wire.worked(this.#id);
      if (question === this.#question) this.worked = found;
    } catch (error) {
      if (question === this.#question && error instanceof Refused) this.wrong = error.wrong;
    }
    if (question === this.#question) this.busy = false;
  }
}
