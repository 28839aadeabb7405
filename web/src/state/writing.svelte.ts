/** A form that is kept as she types: a piece's record or a show, one field of which may be wrong meanwhile. */

import { Away, Refused } from '../wire/client';
import type { Change, Opened } from '../wire/showing';

export type WritingState = 'kept' | 'keeping' | 'away' | 'apart';

const PAUSE_MS = 700;
const AGAIN_MS = 1500;

interface Draft<Body> {
  base: number;
  body: Body;
}

export interface Wrong {
  where: string;
  what: string;
}

/** The first word of a place such as `photos[0].file`. */
export const headOf = (where: string): string => /^[a-z_]*/.exec(where)?.[0] ?? '';

/** `body` with one of its parts as it was. */
export function withPart<Body extends object>(body: Body, old: Body, part: string): Body {
  return { ...body, [part]: (old as Record<string, unknown>)[part] };
}

export class Writing<Body extends object> {
  readonly id: string;
  now = $state.raw<Body>() as Body;
  state = $state<WritingState>('kept');
  wrong = $state.raw<Wrong | null>(null);
  /** Counts what reached the server, so that others can look again. */
  times = $state(0);
  #base: number;
  #kept: Body;
  #send: (change: Change<Body>) => Promise<Opened<Body>>;
  #tab: string;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #sending = false;

  constructor(opened: Opened<Body>, send: (change: Change<Body>) => Promise<Opened<Body>>, tab: string) {
    this.id = opened.id;
    this.#base = opened.version;
    this.#kept = this.now = opened.body;
    this.#send = send;
    this.#tab = tab;
    const text = localStorage.getItem(this.#draft);
    if (text === null) return;
    const draft = JSON.parse(text) as Draft<Body>;
    this.#base = draft.base; // another window may have been quicker: then it is said
    this.change(draft.body);
  }

  get #draft(): string {
    return `polestitch-writing-${this.id}`;
  }

  /** Other words for some parts; kept after a short pause. */
  change(parts: Partial<Body>): void {
    this.now = { ...this.now, ...parts };
    if (this.wrong && headOf(this.wrong.where) in parts) this.wrong = null;
    localStorage.setItem(this.#draft, JSON.stringify({ base: this.#base, body: this.now } satisfies Draft<Body>));
    if (this.state !== 'apart') this.state = 'keeping';
    this.#later(PAUSE_MS);
  }

  /** What the sentence at `where` (or below it) is, if anything is wrong there. */
  at(where: string): string | null {
    if (!this.wrong) return null;
    const { where: place, what } = this.wrong;
    return place === where || place.startsWith(`${where}.`) || place.startsWith(`${where}[`) ? what : null;
  }

  /** The server changed it by itself, as when a photo was added. */
  taken(opened: Opened<Body>, parts: readonly (keyof Body)[]): void {
    this.#base = opened.version;
    this.#kept = opened.body;
    const fresh: Partial<Body> = {};
    for (const part of parts) fresh[part] = opened.body[part];
    this.now = { ...this.now, ...fresh };
    this.times += 1;
  }

  /** Keeps at once what waits for its pause. */
  async flush(): Promise<void> {
    clearTimeout(this.#timer);
    while (this.#sending) await new Promise((done) => setTimeout(done, 30));
    if (this.state === 'keeping' || this.state === 'away') await this.#keep();
  }

  /** After another window was quicker: ours over theirs, which stays among the earlier versions. */
  over(version: number): void {
    this.#base = version;
    this.state = 'keeping';
    this.#later(0);
  }

  /** After another window was quicker: theirs, and ours is left. */
  leave(): void {
    clearTimeout(this.#timer);
    localStorage.removeItem(this.#draft);
  }

  close(): void {
    void this.flush();
  }

  #later(ms: number): void {
    clearTimeout(this.#timer);
    if (this.state !== 'apart') this.#timer = setTimeout(() => void this.#keep(), ms);
  }

  async #keep(): Promise<void> {
    if (this.#sending) return;
    this.#sending = true;
    const mine = this.now;
    try {
      await this.#sendParts(mine);
      if (this.now === mine) this.#settled();
      else this.#later(PAUSE_MS);
    } catch (error) {
      this.#notKept(error);
    }
    this.#sending = false;
  }

  #settled(): void {
    this.state = 'kept';
    if (!this.wrong) localStorage.removeItem(this.#draft);
  }

  /** Sends it whole, or without the one part that is wrong. */
  async #sendParts(mine: Body): Promise<void> {
    this.wrong = null;
    let body = mine;
    for (let tries = 0; tries < 12; tries++) {
      try {
        const opened = await this.#send({ base: this.#base, body, tab: this.#tab });
        this.#base = opened.version;
        this.#kept = body;
        this.times += 1;
        return;
      } catch (error) {
        if (!(error instanceof Refused) || error.status !== 422) throw error;
        this.wrong ??= { where: error.wrong.where, what: error.message };
        const part = headOf(error.wrong.where);
        const next = withPart(body, this.#kept, part);
        if (!(part in mine) || JSON.stringify(next) === JSON.stringify(body)) return;
        body = next;
      }
    }
  }

  #notKept(error: unknown): void {
    if (error instanceof Refused && error.status === 409) this.state = 'apart';
    else if (error instanceof Away) {
      this.state = 'away';
      this.#timer = setTimeout(() => void this.#keep(), AGAIN_MS);
    } else {
      this.state = 'away';
      this.wrong = { where: '', what: error instanceof Error ? error.message : String(error) };
      this.#timer = setTimeout(() => void this.#keep(), AGAIN_MS * 4);
    }
  }
}
