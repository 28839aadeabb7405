/** The design being edited: undo is a list of whole documents. */

import type { DesignDocument } from '../wire/design';

interface Step {
  document: DesignDocument;
  /** What the change was, in the maker's words, for the undo button. */
  said: string;
}

export class History {
  #past = $state.raw<Step[]>([]);
  #future = $state.raw<Step[]>([]);
  #now = $state.raw<DesignDocument>() as DesignDocument;
  #run: string | null = null;

  constructor(document: DesignDocument) {
    this.#now = document;
  }

  get now(): DesignDocument {
    return this.#now;
  }

  get undoes(): string | null {
    return this.#past.at(-1)?.said ?? null;
  }

  get redoes(): string | null {
    return this.#future.at(-1)?.said ?? null;
  }

  /** Replaces the document. Changes of the same `run` (one slider, one colour) are one step to undo. */
  change(document: DesignDocument, said: string, run: string | null = null): void {
    if (JSON.stringify(document) === JSON.stringify(this.#now)) return;
    if (run === null || run !== this.#run) this.#past = [...this.#past, { document: this.#now, said }];
    this.#run = run;
    this.#future = [];
    this.#now = document;
  }

  /** Ends a run: the next change is a step of its own. */
  pause(): void {
    this.#run = null;
  }

  undo(): boolean {
    const step = this.#past.at(-1);
    if (!step) return false;
    this.#past = this.#past.slice(0, -1);
    this.#future = [...this.#future, { document: this.#now, said: step.said }];
    this.#now = step.document;
    this.#run = null;
    return true;
  }

  redo(): boolean {
    const step = this.#future.at(-1);
    if (!step) return false;
    this.#future = this.#future.slice(0, -1);
    this.#past = [...this.#past, { document: this.#now, said: step.said }];
    this.#now = step.document;
    this.#run = null;
    return true;
  }
}
