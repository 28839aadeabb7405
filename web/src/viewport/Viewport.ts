/** The ball on screen: renderer, camera, draw on demand, dispose. Knows buffers and nothing of panels. */

import {
  Matrix3,
  Matrix4,
  PerspectiveCamera,
  Quaternion,
  Scene as World,
  Vector3,
  WebGLRenderer,
  Group,
  LinearSRGBColorSpace,
  type DataTexture,
  type WebGLCubeRenderTarget,
} from 'three';
import type { Scene, Vec3 } from '../wire/scene';
import type { Aids, Inks } from './aids';
import { arcBetween, arrowRecords, recordTexture, guidelineRecords, ringRound, rulerRecords } from './arcs';
import { Ground } from './ball';
import { distanceOf, seenAt, touchedAt, VIEW_ANGLE, type Seen } from './cameras';
import { wrapPicture } from './ground';
import { Lines, Pins } from './guides';
import { listen } from './hands';
import { Overlay } from './overlay';
import { Pace } from './pace';
import { countUntil, markingPieces, patchesOf, piecesOf, type Pieces, type Shown } from './pieces';
import { cordTexture, linear, Threads, type Cord } from './threads';
import { atRest, eased, facing, rolled, turned, turnTime } from './turning';

const MARKING_HALF = 0.0042;

/** WebGL is missing or was refused. */
export class NoWebGL extends Error {}

export class Viewport {
  readonly #canvas: HTMLCanvasElement;
  readonly #renderer: WebGLRenderer;
  readonly #camera = new PerspectiveCamera(VIEW_ANGLE, 1, 0.1, 60);
  readonly #world = new World();
  readonly #turning = new Group();
  readonly #ground = new Ground();
  readonly #marking = new Threads(2, 0.35);
  readonly #threads = new Threads(3, 0.46);
  readonly #patches = new Threads(4, 0.3);
  readonly #lines = new Lines(5, 0.0035);
  readonly #rings = new Lines(6, 0.007);
  readonly #ruler = new Lines(7, 0.006);
  readonly #pins = new Pins(8);
  readonly #overlay: Overlay;
  readonly #ended = new AbortController();
  readonly #sized: ResizeObserver;
  #wrap: WebGLCubeRenderTarget;
  #arcs: DataTexture | null = null;
  #lineArcs: DataTexture | null = null;
  #cords: DataTexture | null = null;
  #scene: Scene | null = null;
  #pieces: Pieces | null = null;
  #patchPieces: Pieces | null = null;
  #shown: Shown = { hidden: new Set(), lit: null, litRow: null };
  #until = Infinity;
  #aids: Aids = {
    pins: [],
    lines: false,
    marks: [],
    rings: [],
    ruler: [],
    marking: { colour: '#d5b15e', metallic: true },
  };
  #inks: Inks = { brass: '#82621a', indigo: '#2b4c7e', madder: '#a93d29', shadow: 0.42 };
  #now = atRest();
  #zoom = 1;
  #frame = 0;
  #frames = 0;
  readonly #pace = new Pace(() => this.invalidate());
  #way: { from: Quaternion; to: Quaternion; began: number; lasts: number } | null = null;
  onTouch: (xyz: Vec3) => void = () => {};
  /** A handle was let go at another place. */
  onDrop: (id: string, xyz: Vec3) => void = () => {};
  onLost: (lost: boolean) => void = () => {};
  calm = false;

  constructor(canvas: HTMLCanvasElement, labels: HTMLElement) {
    this.#canvas = canvas;
    try {
      this.#renderer = new WebGLRenderer({
        canvas,
        alpha: true,
        antialias: false,
        premultipliedAlpha: true,
        depth: false,
        stencil: false,
      });
    } catch (error) {
      throw new NoWebGL(String(error));
    }
    this.#renderer.outputColorSpace = LinearSRGBColorSpace; // the shaders write screen values themselves
    this.#renderer.setClearColor(0, 0);
    this.#overlay = new Overlay(labels);
    this.#overlay.onDrop = (id, x, y) => {
      const xyz = touchedAt(this.#camera, this.#now, this.#canvas, x, y);
      if (xyz) this.onDrop(id, xyz);
      else this.invalidate();
    };
    this.#wrap = wrapPicture(this.#renderer);
    this.#ground.wrap(this.#wrap.texture);
    for (const part of [this.#marking, this.#threads, this.#patches, this.#lines, this.#rings, this.#ruler, this.#pins])
      this.#turning.add(part.mesh);
    this.#world.add(this.#ground.shadow, this.#ground.ball, this.#turning);
    this.#sized = new ResizeObserver(() => this.#resize());
    this.#sized.observe(canvas.parentElement ?? canvas);
    this.#listen();
    this.#resize();
  }

  set onPick(act: (id: string) => void) {
    this.#overlay.onPick = act;
  }

  #listen(): void {
    const { signal } = this.#ended;
    listen(
      this.#canvas,
      {
        turn: (right, down) => this.#by(turned(this.#now, right * this.#perPixel(), down * this.#perPixel())),
        roll: (angle) => this.#by(rolled(this.#now, angle)),
        zoom: (factor) => this.zoom(this.#zoom * factor),
        touch: (x, y) => this.#touched(x, y),
        rest: () => this.rest(),
        settle: () => this.invalidate(),
      },
      signal,
    );
    this.#canvas.addEventListener(
      'webglcontextlost',
      (event) => {
        event.preventDefault();
        this.onLost(true);
      },
      { signal },
    );
    this.#canvas.addEventListener('webglcontextrestored', () => this.#restored(), { signal });
  }

  /** The context came back: what lay on the graphics card is painted again. */
  #restored(): void {
    this.#wrap.dispose();
    this.#wrap = wrapPicture(this.#renderer);
    this.#ground.wrap(this.#wrap.texture);
    if (this.#scene) this.show(this.#scene);
    this.onLost(false);
  }

  /** Takes a scene; what was shown before goes on until the next frame. */
  show(scene: Scene): void {
    this.#scene = scene;
    this.#arcs?.dispose();
    this.#lineArcs?.dispose();
    this.#arcs = recordTexture(scene.arcs);
    this.#lineArcs = recordTexture(guidelineRecords(scene.guidelines));
    this.#colour();
    this.#choose();
    this.#aid();
  }

  /** Which layers are hidden or lit. */
  layers(shown: Shown): void {
    this.#shown = shown;
    this.#choose();
  }

  /** Draws the first `rows` rows in laying order. */
  showUntil(rows: number): void {
    this.#until = rows;
    if (this.#pieces) this.#threads.until(countUntil(this.#pieces.row, rows));
    if (this.#patchPieces) this.#patches.until(countUntil(this.#patchPieces.row, rows));
    this.#say();
    this.invalidate();
  }

  aids(aids: Aids): void {
    const dyed =
      aids.marking.colour !== this.#aids.marking.colour || aids.marking.metallic !== this.#aids.marking.metallic;
    this.#aids = aids;
    if (dyed) this.#colour();
    this.#aid();
  }

  inks(inks: Inks): void {
    this.#inks = inks;
    this.#ground.dark(inks.shadow);
    this.#aid();
  }

  /** Turns the short way until `place` is in front. */
  face(place: Vec3): void {
    const to = facing(this.#now, new Vector3(...place).normalize());
    this.#turnTo(to);
  }

  rest(): void {
    this.#zoom = 1;
    this.#turnTo(atRest());
  }

  zoom(times: number): void {
    this.#zoom = Math.min(6, Math.max(0.6, times));
    this.invalidate();
  }

  turnBy(right: number, down: number): void {
    this.#by(turned(this.#now, right, down));
  }

  /** Zooms in or out by a factor. */
  zoomBy(factor: number): void {
    this.zoom(this.#zoom * factor);
  }

  #turnTo(to: Quaternion): void {
    const angle = this.#now.angleTo(to);
    if (this.calm || angle < 1e-3) this.#by(to);
    else {
      this.#way = { from: this.#now.clone(), to, began: performance.now(), lasts: turnTime(angle) };
      this.invalidate();
    }
  }

  #by(now: Quaternion): void {
    this.#way = null;
    this.#now = now;
    this.#pace.moved(performance.now());
    this.invalidate();
  }

  #colour(): void {
    const scene = this.#scene;
    if (!scene) return;
    const cords: Cord[] = scene.threads.map((thread) => ({
      colour: linear(thread.colour),
      metallic: thread.metallic,
      half: (thread.pitch || 0.016) * 0.53,
      twist: thread.metallic ? 4.2 : 5.6,
    }));
    const { colour, metallic } = this.#aids.marking;
    cords.push({ colour: linear(colour), metallic, half: MARKING_HALF, twist: 4.2 });
    this.#cords?.dispose();
    this.#cords = cordTexture(cords);
    this.#ground.colour(scene.ground);
    for (const part of [this.#threads, this.#patches, this.#marking]) part.uniform('uThreads', this.#cords);
  }

  #choose(): void {
    const { scene, arcs, lineArcs, cords } = {
      scene: this.#scene,
      arcs: this.#arcs,
      lineArcs: this.#lineArcs,
      cords: this.#cords,
    };
    if (!scene || !arcs || !lineArcs || !cords) return;
    this.#pieces = piecesOf(scene, this.#shown);
    this.#patchPieces = patchesOf(scene, this.#shown);
    this.#threads.take(this.#pieces, arcs, cords);
    this.#patches.take(this.#patchPieces, arcs, cords);
    this.#marking.take(markingPieces(scene), lineArcs, cords);
    this.showUntil(this.#until);
  }

  #aid(): void {
    const { brass, indigo, madder } = this.#inks;
    const scene = this.#scene;
    if (!scene) return;
    this.#lines.show(this.#aids.lines ? guidelineRecords(scene.guidelines) : [], brass, 0.85);
    this.#rings.show(
      [
        ...this.#aids.rings.flatMap((at) => [...ringRound(at, 0.085), ...ringRound(at, 0.1)]),
        ...(this.#aids.arrows ?? []).flatMap(([from, to]) => arrowRecords(from, to)),
      ],
      madder,
      0.95,
    );
    const ways = (this.#aids.ways ?? []).flatMap(([from, to]) => arcBetween(from, to));
    this.#ruler.show([...rulerRecords(this.#aids.ruler), ...ways], indigo, 1);
    this.#pins.show([...this.#aids.pins, ...this.#aids.ruler]);
    this.#overlay.show(this.#aids.marks);
    this.invalidate();
  }

  /** Asks for one frame. */
  invalidate(): void {
    if (this.#frame || this.#ended.signal.aborted) return;
    this.#frame = requestAnimationFrame((time) => this.#draw(time));
  }

  #draw(time: number): void {
    this.#frame = 0;
    this.#step(time);
    if (this.#pace.changed(time)) {
      for (const part of [this.#marking, this.#threads, this.#patches]) part.bare = this.#pace.coarse;
      this.#size();
    }
    const distance = distanceOf(this.#camera);
    this.#camera.zoom = this.#zoom;
    this.#camera.updateProjectionMatrix();
    this.#turning.position.z = -distance;
    this.#turning.quaternion.copy(this.#now);
    const turned3 = new Matrix3().setFromMatrix4(new Matrix4().makeRotationFromQuaternion(this.#now.clone().invert()));
    this.#ground.turned = turned3;
    this.#ground.distance = distance;
    for (const part of [this.#marking, this.#threads, this.#patches]) part.uniform('uDistance', distance);
    for (const part of [this.#lines, this.#rings, this.#ruler, this.#pins]) part.distance = distance;
    this.#renderer.render(this.#world, this.#camera);
    this.#overlay.move((xyz) => this.#seen(xyz));
    this.#frames += 1;
    this.#canvas.dataset['frames'] = String(this.#frames);
  }

  #step(time: number): void {
    if (!this.#way) return;
    const share = Math.min(1, Math.max(0, (time - this.#way.began) / this.#way.lasts));
    this.#now = this.#way.from.clone().slerp(this.#way.to, eased(share)).normalize();
    if (share >= 1) this.#way = null;
    this.#pace.moved(time);
    this.invalidate();
  }

  #perPixel(): number {
    return (
      2.4 / Math.max(120, Math.min(this.#canvas.clientWidth, this.#canvas.clientHeight)) / Math.max(1, this.#zoom * 0.8)
    );
  }

  #resize(): void {
    const host = this.#canvas.parentElement ?? this.#canvas;
    this.#camera.aspect = Math.max(1, host.clientWidth) / Math.max(1, host.clientHeight);
    this.#size();
    this.invalidate();
  }

  #size(): void {
    const host = this.#canvas.parentElement ?? this.#canvas;
    const ratio = Math.min(2, window.devicePixelRatio || 1) * (this.#pace.coarse ? 0.5 : 1);
    this.#renderer.setPixelRatio(ratio);
    this.#renderer.setSize(Math.max(1, host.clientWidth), Math.max(1, host.clientHeight), false);
  }

  #seen(xyz: Vec3): Seen {
    return seenAt(this.#camera, this.#now, this.#canvas, xyz);
  }

  #touched(x: number, y: number): void {
    const xyz = touchedAt(this.#camera, this.#now, this.#canvas, x, y);
    if (xyz) this.onTouch(xyz);
  }

  /** What tests may ask of the canvas: which question it shows, and how many pieces of thread are drawn. */
  #say(): void {
    if (!this.#scene) return;
    this.#canvas.dataset['revision'] = String(this.#scene.question);
    this.#canvas.dataset['threads'] = String(this.#threads.painted);
  }

  dispose(): void {
    this.#ended.abort();
    this.#pace.dispose();
    cancelAnimationFrame(this.#frame);
    this.#sized.disconnect();
    for (const part of [
      this.#marking,
      this.#threads,
      this.#patches,
      this.#lines,
      this.#rings,
      this.#ruler,
      this.#pins,
      this.#ground,
      this.#overlay,
      this.#wrap,
    ])
      part.dispose();
    for (const texture of [this.#arcs, this.#lineArcs, this.#cords]) texture?.dispose();
    this.#renderer.dispose();
  }
}
