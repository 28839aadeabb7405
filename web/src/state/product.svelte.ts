/** What the engine made of the document: the latest scene, and for which question. */

import { built, figures, Away, Refused, superseded, type Figures } from '../wire/client';
import type { DesignDocument } from '../wire/design';
import type { Scene, Wrong } from '../wire/scene';

type Built = typeof built;
type Figured = typeof figures;

export class Product {
  scene = $state.raw<Scene | null>(null);
  /** What cannot be made, and where; the last scene that could be made stays in view. */
  wrong = $state.raw<Wrong | null>(null);
  /** Findings, thread and hours; they come a little after the scene. */
  figures = $state.raw<Figures | null>(null);
  busy = $state(false);
  unreachable = $state(false);
  #question = 0;
  readonly #tab: string;
  readonly #built: Built;
  readonly #figured: Figured;

  constructor(tab: string, how: Built = built, told: Figured = figures) {
    this.#tab = tab;
    this.#built = how;
    this.#figured = told;
  }

  /** Asks for the scene of `document`; an answer to an older question is never shown. */
  async ask(document: DesignDocument): Promise<void> {
    const question = ++this.#question;
    this.busy = true;
    try {
      const scene = await this.#built(document, question, this.#tab);
      if (question !== this.#question) return;
      this.#take(scene);
      const told = await this.#figured(document, question, this.#tab);
      if (question !== this.#question) return;
      this.figures = told;
    } catch (error) {
      if (question !== this.#question || superseded(error)) return;
      this.#refused(error);
    }
    this.busy = false;
  }

  #take(scene: Scene): void {
    this.wrong = scene.wrong;
    this.unreachable = false;
    // Of a document of which nothing can be shown, the last ball that could be made stays in view.
    if (scene.points.length > 0 || this.scene === null) this.scene = scene;
  }

  #refused(error: unknown): void {
    this.unreachable = error instanceof Away;
    if (error instanceof Refused) this.wrong = error.wrong;
    else if (!(error instanceof Away)) this.wrong = { where: '', what: String(error) };
  }
}
