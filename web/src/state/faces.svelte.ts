/** Pictures of pieces, fetched two at a time: drawing one takes a second or two, and nothing else should wait for it. */

import { SvelteSet } from 'svelte/reactivity';
import { fetchedPicture } from '../wire/showing';

const AT_ONCE = 2;

class Faces {
  /** Addresses whose pictures have come. */
  readonly ready = new SvelteSet<string>();
  #asked = new Set<string>();
  #fresh: string[] = [];
  #waiting: string[] = [];
  #busy = 0;

  /** Asks for a picture once; the page asked for last comes first, for that is what she looks at. */
  want(address: string): void {
    if (this.#asked.has(address)) return;
    this.#asked.add(address);
    this.#fresh.push(address);
    if (this.#fresh.length === 1) queueMicrotask(() => this.#line());
  }

  /** All of one page are asked together, and keep their order. */
  #line(): void {
    this.#waiting.unshift(...this.#fresh);
    this.#fresh = [];
    this.#next();
  }

  #next(): void {
    while (this.#busy < AT_ONCE && this.#waiting.length > 0) {
      const address = this.#waiting.shift()!;
      this.#busy += 1;
      fetchedPicture(address).then(
        (there) => this.#done(address, there),
        () => this.#done(address, false),
      );
    }
  }

  #done(address: string, there: boolean): void {
    this.#busy -= 1;
    if (there) this.ready.add(address);
    else this.#asked.delete(address);
    this.#next();
  }
}

export const faces = new Faces();

/** The address in the one size that every page shows, so that each ball is drawn once. */
export const faceAddress = (picture: string): string => `${picture}&size=480`;
