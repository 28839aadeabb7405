/** Words and buttons that stick to places on the ball: plain elements over the canvas, moved as it turns. */

export interface Mark {
  id: string;
  xyz: readonly [number, number, number];
  text: string;
  /**
   * label: words beside the place; pick: a button on it; handle: a numbered button that can be dragged;
   * place: a lit finding; rule: a measured distance.
   */
  kind: 'label' | 'pick' | 'handle' | 'place' | 'rule';
  /** What a handle shows; its text is what it is called. */
  short?: string;
  pressed?: boolean;
}

type Projected = (xyz: readonly [number, number, number]) => { x: number; y: number; front: number };

export class Overlay {
  readonly #host: HTMLElement;
  readonly #elements = new Map<string, HTMLElement>();
  #marks: readonly Mark[] = [];
  #held: { id: string; from: readonly [number, number]; moved: boolean } | null = null;
  onPick: (id: string) => void = () => {};
  #dropped = false;
  onDrop: (id: string, x: number, y: number) => void = () => {};

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
      const pressable = mark.kind === 'pick' || mark.kind === 'handle';
      element = document.createElement(pressable ? 'button' : 'span');
      element.className = `mark mark-${mark.kind}`;
      if (pressable) {
        element.setAttribute('type', 'button');
        element.addEventListener('click', () => {
          if (!this.#dropped) this.onPick(mark.id); // the end of a drag is no click
          this.#dropped = false;
        });
        if (mark.kind === 'handle') this.#draggable(element, mark.id);
      } else element.setAttribute('aria-hidden', 'true');
      this.#host.append(element);
      this.#elements.set(key, element);
    }
    if (mark.kind === 'pick') {
      element.setAttribute('aria-label', mark.text);
      element.setAttribute('aria-pressed', String(mark.pressed ?? false));
      element.title = mark.text;
    } else if (mark.kind === 'handle') {
      element.setAttribute('aria-label', mark.text);
      element.title = mark.text;
      element.textContent = mark.short ?? mark.text;
    } else element.textContent = mark.text;
  }

  /** Follows the pointer while it is held, and says where it was let go. */
  #draggable(element: HTMLElement, id: string): void {
    const place = (event: PointerEvent) => {
      const box = this.#host.getBoundingClientRect();
      return [event.clientX - box.left, event.clientY - box.top] as const;
    };
    element.addEventListener('pointerdown', (event) => {
      element.setPointerCapture(event.pointerId);
      this.#held = { id, from: place(event), moved: false };
    });
    element.addEventListener('pointermove', (event) => {
      if (this.#held?.id !== id) return;
      const [x, y] = place(event);
      this.#held.moved ||= Math.hypot(x - this.#held.from[0], y - this.#held.from[1]) > 5;
      if (this.#held.moved) element.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
    });
    const end = (event: PointerEvent) => {
      const held = this.#held;
      this.#held = null;
      this.#dropped = held?.moved ?? false;
      if (held?.id === id && held.moved) this.onDrop(id, ...place(event));
    };
    element.addEventListener('pointerup', end);
    element.addEventListener('pointercancel', () => (this.#held = null));
  }

  /** Moves every element to where its place is now seen. */
  move(seen: Projected): void {
    for (const mark of this.#marks) {
      const element = this.#elements.get(mark.kind + mark.id);
      if (!element || (this.#held?.moved && this.#held.id === mark.id)) continue;
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
