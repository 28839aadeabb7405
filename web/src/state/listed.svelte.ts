/** A list that the studio keeps: asked for, asked again while the studio is away, and put away from with a way back. */
import { Away, superseded } from '../wire/client';
import { notices } from './notices.svelte';

const AGAIN_MS = 1500;

/**
 * Made while its page is set up: it asks at once, asks again when what `ask` reads changes, and ends with the page.
 * `found` is null until there is a first answer; an answer to an older question is let go.
 */
export class Listed<T> {
  found = $state.raw<T | null>(null);
  /** Whether the studio does not answer just now. */
  unreachable = $state(false);
  readonly #ask: () => Promise<T>;
  #question = 0;

  constructor(ask: () => Promise<T>) {
    this.#ask = ask;
    $effect(() => void this.load());
    $effect(() => {
      const timer = setInterval(() => this.unreachable && void this.load(), AGAIN_MS);
      return () => clearInterval(timer);
    });
  }

  async load(): Promise<void> {
    const question = ++this.#question;
    try {
      const found = await this.#ask();
      if (question !== this.#question) return;
      this.found = found;
      this.unreachable = false;
    } catch (error) {
      if (question !== this.#question || superseded(error)) return;
      this.unreachable = error instanceof Away;
      if (!this.unreachable) notices.wrong(error);
    }
  }

  /** Puts `card` away, or brings it back; `put` does so in the studio. */
  async putAway(card: { away: boolean }, called: string, put: (away: boolean) => Promise<unknown>): Promise<void> {
    const act = () =>
      void put(card.away).then(
        () => this.load(),
        (error: unknown) => notices.wrong(error),
      );
    try {
      await put(!card.away);
      notices.say(card.away ? `“${called}” is back.` : `“${called}” is put away.`, {
        back: { said: card.away ? 'Put away again' : 'Bring back', act },
      });
      await this.load();
    } catch (error) {
      notices.wrong(error);
    }
  }
}

/** Whether every word of `search` stands somewhere in `words`. */
export function isCalled(search: string, words: readonly unknown[]): boolean {
  const said = words.join(' ').toLowerCase();
  return search
    .toLowerCase()
    .split(/\s+/)
    .every((word) => said.includes(word));
}
