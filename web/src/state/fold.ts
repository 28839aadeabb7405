/**
 * What all events of a piece come to. Twin of the studio's own fold; both are held to one golden file.
 *
 * Events are laid in the order (clock, device, seq); each names its step, so that a double changes nothing.
 */

import type { ChairEvent, ChairState, Note, Sitting } from '../wire/chair';

const IDLE_MINUTES = 5;
const FAR = 2 ** 53;
type Range = [number, number];

export const nothingDone = (): ChairState => ({
  clock: 0,
  place: 0,
  done: [],
  notes: [],
  pins: { in: 0, out: 0, counts: [] },
  sittings: [],
  settings: {},
  revision: null,
});

/** Before below zero, after above: the order events are laid in. */
export function earlier(a: ChairEvent, b: ChairEvent): number {
  if (a.clock !== b.clock) return a.clock - b.clock;
  if (a.device !== b.device) return a.device < b.device ? -1 : 1;
  return a.seq - b.seq;
}

/** The state all `events` come to, in whatever order they are given. */
export function folded(events: readonly ChairEvent[], from: ChairState = nothingDone()): ChairState {
  const seen = new Set<string>();
  const once = events.filter((event) => !seen.has(event.id) && seen.add(event.id));
  return once.sort(earlier).reduce(after, from);
}

const isStep = (value: unknown): boolean =>
  Number.isInteger(value) && (value as number) >= 0 && (value as number) < FAR;

/** Whether the numbers an event of its kind needs are there: one that makes no sense changes nothing but the clock. */
function makesSense(event: ChairEvent): boolean {
  const needed: Partial<Record<ChairEvent['kind'], string>> = {
    next: 'step',
    back: 'step',
    note: 'step',
    differently: 'step',
    ran_out: 'step',
    jump: 'to',
    unpick: 'to',
    pins: 'n',
    replan: 'revision',
  };
  const name = needed[event.kind];
  return name === undefined || isStep((event as unknown as Record<string, unknown>)[name]);
}

/** The state after one more event. */
export function after(state: ChairState, event: ChairEvent): ChairState {
  const beaten = beat({ ...state, clock: Math.max(state.clock, event.clock) }, event);
  if (!makesSense(event)) return beaten;
  switch (event.kind) {
    case 'next':
      return { ...beaten, done: withRange(beaten.done, event.step, event.step + 1), place: event.step + 1 };
    case 'back': {
      const place = Math.max(0, event.step - 1);
      return { ...beaten, done: withoutRange(beaten.done, place, place + 1), place };
    }
    case 'jump':
      return { ...beaten, done: jumped(beaten, event.to, event.between), place: event.to };
    case 'unpick':
      return {
        ...noted(beaten, event, { step: event.to }),
        done: withoutRange(beaten.done, event.to, Infinity),
        place: event.to,
      };
    case 'note':
      return noted(beaten, event, { step: event.step, text: event.text, photo: event.photo ?? null });
    case 'differently':
      return noted(beaten, event, { step: event.step, text: event.text });
    case 'ran_out':
      return noted(beaten, event, { step: event.step, thread: event.thread });
    default:
      return aside(beaten, event);
  }
}

/** Events that move no step. */
function aside(state: ChairState, event: ChairEvent): ChairState {
  switch (event.kind) {
    case 'pins':
      return { ...state, pins: pinned(state.pins, event) };
    case 'hours':
      return {
        ...state,
        sittings: state.sittings.map((s) => (s.id === event.sitting ? { ...s, minutes: event.minutes } : s)),
      };
    case 'setting':
      return { ...state, settings: { ...state.settings, [event.name]: event.value } };
    case 'replan': {
      const revised = { ...state, revision: event.revision };
      if (event.kept == null) return revised;
      const place = Math.min(state.place, event.kept);
      return { ...revised, done: withoutRange(state.done, event.kept, Infinity), place };
    }
    default:
      return state;
  }
}

function jumped(state: ChairState, to: number, between: 'done' | 'as is'): Range[] {
  return between === 'done' && to > state.place ? withRange(state.done, state.place, to) : state.done;
}

function noted(state: ChairState, event: ChairEvent, more: Partial<Note> & { step: number }): ChairState {
  const kind = event.kind as Note['kind'];
  const note: Note = { id: event.id, kind, text: '', photo: null, thread: null, at: event.at, ...more };
  return { ...state, notes: [...state.notes, note] };
}

function pinned(pins: ChairState['pins'], event: ChairEvent & { kind: 'pins' }): ChairState['pins'] {
  if (event.what === 'in') return { ...pins, in: pins.in + event.n };
  if (event.what === 'out') return { ...pins, out: pins.out + event.n };
  if (event.what !== 'count') return pins;
  return { ...pins, counts: [...pins.counts, { n: event.n, when: event.when || '', at: event.at }] };
}

/** Time runs while a device sits; a gap longer than she allows is left out. */
function beat(state: ChairState, event: ChairEvent): ChairState {
  const starts = event.kind === 'sit' && event.what === 'start';
  const stops = event.kind === 'sit' && event.what === 'stop';
  const wanted = state.settings['idle'];
  const idle = (typeof wanted === 'number' ? wanted : IDLE_MINUTES) * 60;
  let sittings = state.sittings.map((sitting) =>
    sitting.open && sitting.device === event.device ? ran(sitting, event.at, idle, starts || stops) : sitting,
  );
  if (starts)
    sittings = [
      ...sittings,
      { id: event.id, device: event.device, began: event.at, last: event.at, seconds: 0, open: true, minutes: null },
    ];
  return { ...state, sittings };
}

function ran(sitting: Sitting, at: string, idle: number, closes: boolean): Sitting {
  const gap = Math.floor(((Date.parse(at) || 0) - (Date.parse(sitting.last) || 0)) / 1000);
  const counted = gap > 0 && gap <= idle ? gap : 0;
  return {
    ...sitting,
    seconds: sitting.seconds + counted,
    last: gap > 0 ? at : sitting.last,
    open: !closes,
  };
}

/** `ranges` with [from, to) in it, joined where they touch. */
export function withRange(ranges: readonly Range[], from: number, to: number): Range[] {
  if (to <= from) return [...ranges];
  const before = ranges.filter(([, end]) => end < from);
  const behind = ranges.filter(([start]) => start > to);
  const touched = ranges.filter(([start, end]) => end >= from && start <= to);
  const start = Math.min(from, ...touched.map(([a]) => a));
  const end = Math.max(to, ...touched.map(([, b]) => b));
  return [...before, [start, end], ...behind];
}

/** `ranges` without [from, to). */
export function withoutRange(ranges: readonly Range[], from: number, to: number): Range[] {
  return ranges.flatMap(([start, end]): Range[] => {
    if (end <= from || start >= to) return [[start, end]];
    const left: Range[] = start < from ? [[start, from]] : [];
    const right: Range[] = end > to ? [[to, end]] : [];
    return [...left, ...right];
  });
}

export const isDone = (state: ChairState, step: number): boolean =>
  state.done.some(([from, to]) => step >= from && step < to);

export const doneCount = (state: ChairState): number => state.done.reduce((sum, [from, to]) => sum + to - from, 0);

/** Minutes of a sitting: her own word where she gave one. */
export const minutesOf = (sitting: Sitting): number => sitting.minutes ?? Math.round(sitting.seconds / 60);
