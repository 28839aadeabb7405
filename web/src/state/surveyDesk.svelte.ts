/** A design's pin survey on its page: her readings, kept as she goes, and what they tell. */

import { Away, built, opened, Refused, superseded } from '../wire/client';
import type { DesignDocument } from '../wire/design';
import type { Scene } from '../wire/scene';
import * as wire from '../wire/survey';
import { notices } from './notices.svelte';
import { afterMoves, dueOf, nextPair, type Pair, type Unit, withUnit } from './survey';

const [SETTLED_MS, AGAIN_MS, MOST_UNDONE] = [250, 1500, 200];
const draftKey = (id: string) => `polestitch-survey-${id}`;
const EMPTY: wire.KeptSurvey = { readings: [], made: [], off_by_mm: 0.5 };

export class SurveyDesk {
  readonly id: string;
  readonly document: DesignDocument;
  readonly #tab = crypto.randomUUID();
  scene = $state.raw<Scene | null>(null);
  survey = $state.raw<wire.KeptSurvey>(EMPTY);
  asked = $state.raw<wire.AskedDistance[]>([]);
  answer = $state.raw<wire.Surveyed | null>(null);
  /** What is wrong with the ball itself, so that no pin can be told. */
  wrong = $state<string | null>(null);
  busy = $state(false);
  keeping = $state<'kept' | 'keeping' | 'away'>('kept');
  first = $state('');
  second = $state('');
  text = $state('');
  unit = $state<Unit>('mm');
  undone = $state.raw<wire.KeptSurvey[]>([]);
  #planned = $state(false);
  #base = 0;
  #question = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #sending = false;
  #closed = false;

  constructor(id: string, document: DesignDocument) {
    this.id = id;
    this.document = document;
    this.unit = document.maker?.units === 'in' ? 'in' : 'mm';
  }

  static async open(id: string): Promise<SurveyDesk> {
    const [{ document }, kept] = await Promise.all([opened(id), wire.keptSurvey(id)]);
    const desk = new SurveyDesk(id, document);
    desk.#take(kept);
    desk.#recall(kept.number);
    void desk.#draw();
    void desk.#ask();
    void desk.#plan();
    return desk;
  }

  close(): void {
    this.#closed = true;
    clearTimeout(this.#timer);
  }

  get pins(): readonly wire.SurveyedPin[] {
    return this.answer?.pins ?? [];
  }

  /** What the pins are called, as soon as the plan or an answer tells it. */
  get names(): readonly string[] {
    if (this.answer) return this.answer.pins.map((pin) => pin.point);
    return [...new Set(this.asked.flatMap((one) => [one.first, one.second]))];
  }

  /** Whether the plan and the first answer have come, so that pins can be chosen. */
  get told(): boolean {
    return this.answer !== null && this.#planned;
  }

  get pair(): Pair | null {
    return this.first && this.second ? [this.first, this.second] : null;
  }

  get due(): number | null {
    return this.pair && dueOf(this.asked, this.pair);
  }

  /** Which pair to light up: the one in hand, else the next that is worth it. */
  get suggested(): Pair | null {
    return nextPair(this.asked, this.survey, this.answer);
  }

  /** Moves she ticked that the readings still ask for. */
  get moved(): ReadonlySet<string> {
    const made = new Set(this.survey.made);
    return new Set((this.answer?.moves ?? []).filter((move) => made.has(move.sentence)).map((move) => move.point));
  }

  /** A pin touched: the first of a pair, the second, or the first of the next pair. */
  touch(pin: string): void {
    if (!this.first || this.second) {
      this.first = pin;
      this.second = '';
    } else if (pin !== this.first) this.second = pin;
  }

  choose(pair: Pair | null): void {
    [this.first, this.second] = pair ?? ['', ''];
  }

  /** On to another pair without a reading. */
  skip(): void {
    this.choose(nextPair(this.asked, this.survey, this.answer, this.pair));
  }

  /** Takes what is typed as the reading of the pair in hand, and goes on to the next. */
  read(): void {
    const { pair } = this;
    if (!pair || !this.text.trim()) return;
    const reading = { first: pair[0], second: pair[1], length: withUnit(this.text, this.unit), via: '', aside: false };
    this.change({ ...this.survey, readings: [...this.survey.readings, reading] });
    this.text = '';
    this.choose(nextPair(this.asked, this.survey, this.answer, pair));
  }

  edit(index: number, change: Partial<wire.KeptReading>): void {
    const readings = this.survey.readings.map((one, k) => (k === index ? { ...one, ...change } : one));
    this.change({ ...this.survey, readings });
  }

  remove(index: number): void {
    this.change({ ...this.survey, readings: this.survey.readings.filter((_, k) => k !== index) });
  }

  add(readings: readonly wire.KeptReading[]): void {
    this.change({ ...this.survey, readings: [...this.survey.readings, ...readings] });
  }

  tick(sentence: string, done: boolean): void {
    const made = this.survey.made.filter((one) => one !== sentence);
    this.change({ ...this.survey, made: done ? [...made, sentence] : made });
  }

  measureAgain(): void {
    this.change(afterMoves(this.survey, this.moved));
    this.choose(this.suggested);
  }

  undo(): void {
    const before = this.undone.at(-1);
    if (!before) return;
    this.undone = this.undone.slice(0, -1);
    this.#set(before);
  }

  change(survey: wire.KeptSurvey): void {
    this.undone = [...this.undone.slice(-MOST_UNDONE), this.survey];
    this.#set(survey);
  }

  #set(survey: wire.KeptSurvey): void {
    this.survey = survey;
    localStorage.setItem(draftKey(this.id), JSON.stringify({ base: this.#base, survey }));
    void this.#keep();
    this.busy = true;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#ask(), SETTLED_MS);
  }

  #take(kept: wire.Kept): void {
    this.#base = kept.number;
    this.survey = kept.survey;
  }

  /** Readings that never reached the server are brought back, or offered where another window went on meanwhile. */
  #recall(number: number): void {
    const text = localStorage.getItem(draftKey(this.id));
    if (!text) return;
    const draft = JSON.parse(text) as { base: number; survey: wire.KeptSurvey };
    if (JSON.stringify(draft.survey) === JSON.stringify(this.survey)) localStorage.removeItem(draftKey(this.id));
    else if (draft.base === number) this.change(draft.survey);
    else this.#offer(draft.survey);
  }

  #offer(survey: wire.KeptSurvey): void {
    localStorage.removeItem(draftKey(this.id));
    notices.say('Another window has changed these readings, and you see its list.', {
      back: { said: 'Bring mine back', act: () => this.change(survey) },
      wrong: true,
    });
  }

  async #keep(): Promise<void> {
    if (this.#sending) return;
    this.#sending = true;
    const { survey } = this;
    this.keeping = 'keeping';
    try {
      const kept = await wire.keepSurvey(this.id, this.#base, survey);
      this.#base = kept.number;
      if (this.survey === survey) {
        localStorage.removeItem(draftKey(this.id));
        this.keeping = 'kept';
      }
    } catch (error) {
      await this.#notKept(error, survey);
    }
    this.#sending = false;
    if (this.survey !== survey && !this.#closed) void this.#keep();
  }

  async #notKept(error: unknown, survey: wire.KeptSurvey): Promise<void> {
    if (error instanceof Refused && error.wrong.where === 'base') {
      this.#take(await wire.keptSurvey(this.id));
      this.#offer(survey);
      void this.#ask();
    } else if (error instanceof Away) {
      this.keeping = 'away';
      if (!this.#closed) setTimeout(() => void this.#keep(), AGAIN_MS);
    } else notices.wrong(error);
  }

  async #draw(): Promise<void> {
    try {
      const scene = await built({ ...this.document, layers: [] }, 1, this.#tab);
      this.scene = scene;
      this.wrong ??= scene.wrong?.what ?? null;
    } catch (error) {
      if (!superseded(error)) notices.wrong(error);
    }
  }

  async #plan(): Promise<void> {
    try {
      this.asked = (await wire.distances(this.document)).distances;
      if (!this.first) this.choose(this.suggested);
    } catch (error) {
      if (!(error instanceof Refused)) notices.wrong(error);
    }
    this.#planned = true;
  }

  async #ask(): Promise<void> {
    const question = ++this.#question;
    this.busy = true;
    try {
      const answer = await wire.surveyed(this.document, this.survey, question, this.#tab);
      if (question !== this.#question) return;
      this.answer = answer;
      this.wrong = null;
      if (!this.first && !this.second && this.asked.length > 0) this.choose(this.suggested);
    } catch (error) {
      if (question !== this.#question || superseded(error)) return;
      if (error instanceof Refused) this.wrong = error.wrong.what;
      else if (error instanceof Away) this.#timer = setTimeout(() => void this.#ask(), AGAIN_MS);
      else notices.wrong(error);
    }
    this.busy = false;
  }
}
