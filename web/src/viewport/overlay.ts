/** Words and buttons that stick to places on the ball: plain elements over the canvas, moved as it turns. */

export interface Mark {
  id: string;
  xyz: readonly [number, number, number];
  text: string;
  /** label: words beside the place; pick: a button on it; place: a lit finding; rule: a measured distance. */
  kind: 'label' | 'pick' | 'place' | 'rule';
  pressed?: boolean;
}

type Projected = (xyz: readonly [number, number, number]) => { x: number; y: number; front: number };

export class Overlay {
  readonly #host: HTMLElement;
  readonly #elements = new Map<string, HTMLElement>();
  #marks: readonly Mark[] = [];
  onPick: (id: string) => void = () => {};

  constructor(host: HTMLElement) {
    this.#host = host;
  }

  show(marks: readonly Mark[]): void {
    this.#marks = marks;
    const wanted = new Set(marks.map((mark) => mark.kind + mark.id));
    for (const [key, element] of this.#elements) {
      if (wanted.has(key)) continue;
      element.remove();
      this.#elements.delete(key);
    }
    for (const mark of marks) this.#dress(mark);
  }

  #dress(mark: Mark): void {
    const key = mark.kind + mark.id;
    let element = this.#elements.get(key);
    if (!element) {
      element = document.createElement(mark.kind === 'pick' ? 'button' : 'span');
      element.className = `mark mark-${mark.kind}`;
      if (mark.kind === 'pick') {
        element.setAttribute('type', 'button');
        element.addEventListener('click', () => this.onPick(mark.id));
      } else element.setAttribute('aria-hidden', 'true');
      this.#host.append(element);
      this.#elements.set(key, element);
    }
    if (mark.kind === 'pick') {
      element.setAttribute('aria-label', mark.text);
      element.setAttribute('aria-pressed', String(mark.pressed ?? false));
      element.title = mark.text;
    } else element.textContent = mark.text;
  }

  /** Moves every element to where its place is now seen. */
  move(seen: Projected): void {
    for (const mark of this.#marks) {
      const element = this.#elements.get(mark.kind + mark.id);
      if (!element) continue;
      const { x, y, front } = seen(mark.xyz);
      element.hidden = front < 0.06;
      element.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
    }
  }

  dispose(): void {
    for (const element of this.#elements.values()) element.remove();
    this.#elements.clear();
  }
}
