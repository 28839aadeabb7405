/** Short words about what just happened, with a way back where there is one. */

export interface Notice {
  id: number;
  said: string;
  back?: { said: string; act: () => void };
  wrong?: boolean;
}

const STAYS_MS = 7000;

class Notices {
  list = $state.raw<Notice[]>([]);
  #next = 1;

  say(said: string, more: Omit<Notice, 'id' | 'said'> = {}): void {
    const id = this.#next++;
    this.list = [...this.list.slice(-2), { id, said, ...more }];
    setTimeout(() => this.drop(id), STAYS_MS);
  }

  wrong(error: unknown): void {
    this.say(error instanceof Error ? error.message : String(error), { wrong: true });
  }

  drop(id: number): void {
    this.list = this.list.filter((notice) => notice.id !== id);
  }
}

export const notices = new Notices();
