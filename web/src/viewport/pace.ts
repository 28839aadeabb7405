/** Coarser while the ball moves and frames are slow; sharp again as soon as it rests. */

/** A frame slower than this while the ball moves is drawn coarser until it rests, milliseconds. */
const SLOW = 48;

export class Pace {
  coarse = false;
  #last = 0;
  #slow = 0;
  #moved = 0;
  #resting: ReturnType<typeof setTimeout> | undefined;
  readonly #again: () => void;

  constructor(again: () => void) {
    this.#again = again;
  }

  moved(time: number): void {
    this.#moved = time;
  }

  /** Whether from this frame on the ball is drawn coarser, or sharp again. */
  changed(time: number): boolean {
    const gap = time - this.#last;
    this.#last = time;
    const moving = this.#moved > 0 && time - this.#moved < 300;
    this.#slow = moving && gap > SLOW && gap < 1000 ? this.#slow + 1 : moving ? this.#slow : 0;
    const coarse = moving && this.#slow >= 2;
    const changed = coarse !== this.coarse;
    this.coarse = coarse;
    if (coarse) this.#sharpen();
    return changed;
  }

  #sharpen(): void {
    clearTimeout(this.#resting);
    this.#resting = setTimeout(() => {
      this.#moved = 0;
      this.#again();
    }, 260);
  }

  dispose(): void {
    clearTimeout(this.#resting);
  }
}
