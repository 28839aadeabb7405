/** Colour plans in hand: what is wished, how far the search is, and the dozen it found. */

import { job as report, jobFile, stopped } from '../wire/client';
import type { DesignDocument, ThreadSpec } from '../wire/design';
import * as wire from '../wire/plans';
import { freeName } from './edits';

export type Times = 'as it comes' | 'exactly' | 'at least' | 'at most';

export interface Taken {
  name: string;
  colour: string;
  times: Times;
  count: number;
  /** From the Drawer; the design has it only once a plan with it is put in. */
  fresh?: ThreadSpec;
}

const LOOK_MS = 200;
const said = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** How often, as the server wants it. */
export function wished(thread: Taken): wire.WishedThread {
  const { name, times, count, fresh } = thread;
  const bounds = {
    'as it comes': { least: 1 },
    exactly: { least: count, most: count },
    'at least': { least: count },
    'at most': { least: 0, most: count },
  }[times];
  return fresh ? { name, ...bounds, new: fresh } : { name, ...bounds };
}

export class PlanHand {
  layers = $state.raw<wire.LayerParts[]>([]);
  by = $state<wire.By>('motifs');
  layer = $state('');
  insteadOf = $state('');
  threads = $state<Taken[]>([]);
  order = $state<wire.Order>('apart');
  neighboursDiffer = $state(true);
  opposite = $state<wire.Opposite>('any');
  mirrors = $state(false);

  job = $state.raw<wire.Job | null>(null);
  no = $state<string | null>(null);
  found = $state.raw<wire.Dozen | null>(null);
  /** What the dozen was found for; a design changed since then needs new plans. */
  #for: { document: DesignDocument; wishes: wire.Wishes } | null = null;
  #id: string | null = null;

  get busy(): boolean {
    return this.job?.state === 'waiting' || this.job?.state === 'running';
  }

  get parts(): wire.LayerParts | undefined {
    return this.layers.find((each) => each.name === this.layer);
  }

  /** How many parts take a thread. */
  get count(): number {
    if (this.by === 'layers') return this.layers.length;
    return this.parts?.[this.by] ?? 0;
  }

  get wishes(): wire.Wishes {
    return {
      by: this.by,
      layer: this.by === 'layers' ? '' : this.layer,
      threads: this.threads.map(wished),
      order: this.order,
      neighbours_differ: this.neighboursDiffer,
      opposite: this.by === 'motifs' ? this.opposite : 'any',
      mirrors: this.by === 'motifs' && this.mirrors,
      instead_of: this.by === 'motifs' ? this.insteadOf : '',
    };
  }

  /** Looks what the document has to colour, and begins with the layer that has most motifs. */
  async look(document: DesignDocument): Promise<void> {
    try {
      this.layers = (await wire.parts(document)).layers;
      this.no = null;
    } catch (error) {
      this.no = said(error);
      return;
    }
    if (this.parts) return;
    const most = [...this.layers].sort((a, b) => b.motifs - a.motifs)[0];
    if (!most) return;
    this.layer = most.name;
    this.choose(most.motifs > 1 ? 'motifs' : most.stripes > 1 ? 'stripes' : 'rows');
  }

  choose(by: wire.By): void {
    this.by = by;
    this.order = by === 'motifs' ? 'apart' : 'contrast';
    this.neighboursDiffer = by !== 'rows';
  }

  chooseLayer(name: string): void {
    this.layer = name;
    this.insteadOf = '';
    const { motifs = 0, stripes = 0, rows = 0 } = this.parts ?? {};
    const least = { motifs, stripes, rows, layers: this.layers.length }[this.by];
    if (least < 2) this.choose(motifs > 1 ? 'motifs' : stripes > 1 ? 'stripes' : 'rows');
  }

  take(thread: ThreadSpec, taken: boolean): void {
    this.threads = taken
      ? [...this.threads, { name: thread.name, colour: thread.colour, times: 'as it comes', count: 1 }]
      : this.threads.filter((each) => each.name !== thread.name);
  }

  takeFresh(thread: ThreadSpec, known: readonly string[]): void {
    const name = freeName(thread.name, [...known, ...this.threads.map((each) => each.name)]);
    const fresh = { ...thread, name };
    this.threads = [...this.threads, { name, colour: thread.colour, times: 'as it comes', count: 1, fresh }];
  }

  /** The best dozen, with pictures. */
  async find(document: DesignDocument): Promise<void> {
    const wishes = this.wishes;
    const id = await this.#run(document, wishes, 'page');
    if (id === null) return;
    try {
      this.found = await wire.dozen(id);
      this.#for = { document, wishes };
    } catch (error) {
      this.no = said(error);
    }
  }

  /** The same on paper: where the file lies. */
  async paper(): Promise<{ at: string; name: string } | null> {
    if (!this.#for) return null;
    const id = await this.#run(this.#for.document, this.#for.wishes, 'pdf');
    return id === null ? null : { at: jobFile(id), name: this.job?.name ?? 'colour-plans.pdf' };
  }

  /** The document in the colours of one plan, and what is to be known of it. */
  async applied(number: number): Promise<{ document: DesignDocument; said: string[] } | null> {
    if (!this.#for) return null;
    return wire.applied(this.#for.document, this.#for.wishes, number);
  }

  isFor(document: DesignDocument): boolean {
    return this.#for?.document === document;
  }

  async stop(): Promise<void> {
    const id = this.#id;
    this.#id = null;
    this.job = null;
    if (id !== null) await stopped(id).catch(() => {});
  }

  async #run(document: DesignDocument, wishes: wire.Wishes, file: 'page' | 'pdf'): Promise<string | null> {
    this.no = null;
    this.job = { state: 'waiting', share: 0, saying: 'Waiting its turn' } as wire.Job;
    try {
      const { job: id } = await wire.begun(document, wishes, file);
      this.#id = id;
      while (this.#id === id) {
        const now = await report(id);
        if (this.#id !== id) return null;
        this.job = now;
        if (now.state === 'failed') this.no = now.wrong?.what ?? 'No plans could be made.';
        if (!this.busy) return now.state === 'done' ? id : null;
        await new Promise((go) => setTimeout(go, LOOK_MS));
      }
    } catch (error) {
      this.no = said(error);
      this.job = null;
    }
    return null;
  }
}
