/** Mouse, touch, pen and keys on the canvas, told as turns, zooms and touches of the ball. */

export interface Hands {
  turn(rightPx: number, downPx: number): void;
  roll(angle: number): void;
  zoom(factor: number): void;
  touch(x: number, y: number): void;
  rest(): void;
  settle(): void;
}

const STEP_PX = 46;

/** Listens until the signal ends it. */
export function listen(canvas: HTMLElement, hands: Hands, signal: AbortSignal): void {
  const held = new Map<number, PointerEvent>();
  let moved = 0;
  const on = <K extends keyof HTMLElementEventMap>(type: K, act: (event: HTMLElementEventMap[K]) => void) =>
    canvas.addEventListener(type, act, { signal, passive: false });

  on('pointerdown', (event) => {
    canvas.setPointerCapture(event.pointerId);
    held.set(event.pointerId, event);
    moved = 0;
  });
  on('pointermove', (event) => {
    const before = held.get(event.pointerId);
    if (!before) return;
    const [dx, dy] = [event.clientX - before.clientX, event.clientY - before.clientY];
    moved += Math.abs(dx) + Math.abs(dy);
    if (held.size === 1) {
      if (event.shiftKey) hands.roll(-dx * 0.008);
      else if (moved > 3) hands.turn(dx, dy);
    } else pinched(held, event, hands);
    held.set(event.pointerId, event);
  });
  const release = (event: PointerEvent) => {
    if (held.size === 1 && moved <= 4 && event.type === 'pointerup') hands.touch(event.offsetX, event.offsetY);
    held.delete(event.pointerId);
    if (held.size === 0) hands.settle();
  };
  on('pointerup', release);
  on('pointercancel', release);
  on('dblclick', () => hands.rest());
  on('wheel', (event) => {
    event.preventDefault();
    hands.zoom(Math.exp(-event.deltaY * 0.0012));
  });
  on('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === 'Enter') hands.touch(canvas.clientWidth / 2, canvas.clientHeight / 2);
    else if (keyed(event.key, event.shiftKey ? STEP_PX / 6 : STEP_PX, hands)) event.preventDefault();
  });
}

/** Two fingers: apart zooms, round rolls. */
function pinched(held: Map<number, PointerEvent>, event: PointerEvent, hands: Hands): void {
  const other = [...held.values()].find((each) => each.pointerId !== event.pointerId);
  const before = held.get(event.pointerId);
  if (!other || !before) return;
  const was = [before.clientX - other.clientX, before.clientY - other.clientY] as const;
  const is = [event.clientX - other.clientX, event.clientY - other.clientY] as const;
  hands.zoom(Math.hypot(...is) / Math.max(1, Math.hypot(...was)));
  hands.roll(Math.atan2(was[1], was[0]) - Math.atan2(is[1], is[0]));
}

function keyed(key: string, step: number, hands: Hands): boolean {
  switch (key) {
    case 'ArrowLeft':
      hands.turn(-step, 0);
      return true;
    case 'ArrowRight':
      hands.turn(step, 0);
      return true;
    case 'ArrowUp':
      hands.turn(0, -step);
      return true;
    case 'ArrowDown':
      hands.turn(0, step);
      return true;
    case '+':
    case '=':
      hands.zoom(1.12);
      return true;
    case '-':
      hands.zoom(1 / 1.12);
      return true;
    case ',':
      hands.roll(0.2);
      return true;
    case '.':
      hands.roll(-0.2);
      return true;
    case 'Home':
      hands.rest();
      return true;
    default:
      return false;
  }
}
