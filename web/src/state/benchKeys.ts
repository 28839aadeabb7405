/** Keys of the Bench: undo, redo, and single letters while nothing is being written. */

import type { Desk } from './desk.svelte';

export interface BenchActs {
  rule: () => void;
  open: (what: 'gallery' | 'take' | 'keys') => void;
}

export function benchKeys(event: KeyboardEvent, desk: Desk, acts: BenchActs): void {
  const target = event.target as HTMLElement;
  const writing = target.closest('input:not([type=range], [type=checkbox]), textarea, select');
  const chord = event.ctrlKey || event.metaKey;
  const key = event.key.toLowerCase();
  if (writing || event.altKey) return;
  if (chord && (key === 'z' || key === 'y')) {
    event.preventDefault();
    if (key === 'y' || event.shiftKey) desk.redo();
    else desk.undo();
  } else if (!chord) single(event, desk, acts);
}

function single(event: KeyboardEvent, desk: Desk, acts: BenchActs): void {
  const { session } = desk;
  const rows = desk.product.scene?.rowLayer.length ?? 0;
  const step = (by: number) => {
    const next = (session.until ?? rows) + by;
    session.until = next >= rows ? null : Math.max(0, next);
  };
  const single: Record<string, () => void> = {
    n: () => (session.names = !session.names),
    p: () => (session.pins = !session.pins),
    l: () => (session.lines = !session.lines),
    r: acts.rule,
    d: () => session.take('path'),
    o: () => session.take('over'),
    a: () => acts.open('gallery'),
    t: () => acts.open('take'),
    '?': () => acts.open('keys'),
    '[': () => step(-1),
    ']': () => step(1),
    Escape: () => {
      session.tool = 'turn';
      session.finding = null;
      session.ruler = [];
    },
  };
  const act = single[event.key.length === 1 ? event.key.toLowerCase() : event.key];
  if (!act) return;
  event.preventDefault();
  act();
}
