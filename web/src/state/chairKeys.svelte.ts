/** How she likes to sit: keys, sound, breaks; kept in this browser, since a pedal belongs to one device. */

import { notices } from './notices.svelte';

export interface Habits {
  next: string[];
  back: string[];
  sound: boolean;
  voice: boolean;
  /** Minutes between reminders; none: no reminders. */
  breaks: number | null;
  /** Which side the thumb buttons are on. */
  thumb: 'left' | 'right';
}

const KEY = 'polestitch-chair-habits';
export const USUAL: Habits = {
  next: [' ', 'ArrowRight', 'ArrowDown', 'PageDown', 'Enter'],
  back: ['ArrowLeft', 'ArrowUp', 'PageUp', 'Backspace'],
  sound: false,
  voice: false,
  breaks: 40,
  thumb: 'right',
};

export const keyName = (key: string): string =>
  ({
    ' ': 'Space',
    ArrowRight: '→',
    ArrowLeft: '←',
    ArrowUp: '↑',
    ArrowDown: '↓',
    PageDown: 'Page down',
    PageUp: 'Page up',
  })[key] ?? key;

class ChairKeys {
  now = $state.raw<Habits>(USUAL);

  begin(): void {
    try {
      this.now = { ...USUAL, ...(JSON.parse(localStorage.getItem(KEY) ?? '{}') as Partial<Habits>) };
    } catch {
      this.now = USUAL;
    }
  }

  change(some: Partial<Habits>): void {
    this.now = { ...this.now, ...some };
    try {
      localStorage.setItem(KEY, JSON.stringify(this.now));
    } catch (error) {
      notices.wrong(error);
    }
  }

  /** Gives `key` to one deed and takes it from the other. */
  learn(deed: 'next' | 'back', key: string): void {
    const other = deed === 'next' ? 'back' : 'next';
    this.change({
      [deed]: [...new Set([...this.now[deed], key])],
      [other]: this.now[other].filter((each) => each !== key),
    });
  }
}

export const chairKeys = new ChairKeys();
