/** How this browser shows the studio: daylight or lamp. */

export type Theme = 'auto' | 'daylight' | 'lamp';
const KEY = 'polestitch-theme';

class Settings {
  theme = $state<Theme>('auto');
  #dark = $state(false);

  /** Reads what was chosen before and follows the system's own choice. */
  begin(): void {
    const kept = localStorage.getItem(KEY);
    if (kept === 'daylight' || kept === 'lamp') this.theme = kept;
    const wish = matchMedia('(prefers-color-scheme: dark)');
    this.#dark = wish.matches;
    wish.addEventListener('change', () => {
      this.#dark = wish.matches;
      this.#apply();
    });
    this.#apply();
  }

  get lamp(): boolean {
    return this.theme === 'lamp' || (this.theme === 'auto' && this.#dark);
  }

  choose(theme: Theme): void {
    this.theme = theme;
    localStorage.setItem(KEY, theme);
    this.#apply();
  }

  #apply(): void {
    document.documentElement.dataset['theme'] = this.lamp ? 'lamp' : 'daylight';
  }
}

export const settings = new Settings();
