/** Flat lines and pins on the ball: guidelines on top, the ruler, rings round findings. */

import {
  InstancedBufferAttribute,
  InstancedBufferGeometry,
  Mesh,
  PlaneGeometry,
  ShaderMaterial,
  Vector4,
  Color,
  type DataTexture,
} from 'three';
import { recordTexture } from './arcs';
import { LINE_FRAGMENT, LINE_VERTEX, PIN_FRAGMENT, PIN_VERTEX } from './shaders';
import { PAINTED, strip } from './threads';

const LINE_STEPS = 64;

export class Lines {
  readonly mesh: Mesh<InstancedBufferGeometry, ShaderMaterial>;
  #texture: DataTexture = recordTexture(new Float32Array(8));

  constructor(order: number, half: number) {
    const material = new ShaderMaterial({
      ...PAINTED,
      vertexShader: LINE_VERTEX,
      fragmentShader: LINE_FRAGMENT,
      uniforms: {
        uArcs: { value: this.#texture },
        uHalf: { value: half },
        uDistance: { value: 4 },
        uColour: { value: new Vector4(0.2, 0.2, 0.2, 1) },
      },
    });
    this.mesh = new Mesh(strip(LINE_STEPS), material);
    this.mesh.frustumCulled = false;
    this.mesh.renderOrder = order;
    this.mesh.visible = false;
  }

  /** Shows these arcs, eight numbers each, in a screen colour with alpha. */
  show(records: readonly number[] | Float32Array, colour: string, alpha: number): void {
    const count = records.length / 8;
    this.mesh.visible = count > 0;
    if (count === 0) return;
    this.#texture.dispose();
    this.#texture = recordTexture(Float32Array.from(records));
    const geometry = strip(LINE_STEPS);
    geometry.setAttribute(
      'aArc',
      new InstancedBufferAttribute(
        Float32Array.from({ length: count }, (_, k) => k),
        1,
      ),
    );
    geometry.instanceCount = count;
    this.mesh.geometry.dispose();
    this.mesh.geometry = geometry;
    const { r, g, b } = new Color().setStyle(colour, '');
    this.mesh.material.uniforms['uArcs']!.value = this.#texture;
    this.mesh.material.uniforms['uColour']!.value = new Vector4(r, g, b, alpha);
  }

  set distance(value: number) {
    this.mesh.material.uniforms['uDistance']!.value = value;
  }

  set half(value: number) {
    this.mesh.material.uniforms['uHalf']!.value = value;
  }

  dispose(): void {
    this.#texture.dispose();
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}

export class Pins {
  readonly mesh: Mesh<InstancedBufferGeometry, ShaderMaterial>;

  constructor(order: number) {
    const material = new ShaderMaterial({
      ...PAINTED,
      vertexShader: PIN_VERTEX,
      fragmentShader: PIN_FRAGMENT,
      uniforms: {
        uDistance: { value: 4 },
        uSize: { value: 0.019 },
        uColour: { value: new Color(0.62, 0.4, 0.08) },
      },
    });
    this.mesh = new Mesh(new InstancedBufferGeometry(), material);
    this.mesh.frustumCulled = false;
    this.mesh.renderOrder = order;
    this.mesh.visible = false;
  }

  show(places: readonly (readonly [number, number, number])[]): void {
    this.mesh.visible = places.length > 0;
    if (places.length === 0) return;
    const plane = new PlaneGeometry(2, 2);
    const geometry = new InstancedBufferGeometry();
    geometry.setAttribute('position', plane.getAttribute('position'));
    geometry.setIndex(plane.getIndex());
    geometry.setAttribute('aAt', new InstancedBufferAttribute(Float32Array.from(places.flat()), 3));
    geometry.instanceCount = places.length;
    this.mesh.geometry.dispose();
    this.mesh.geometry = geometry;
  }

  set distance(value: number) {
    this.mesh.material.uniforms['uDistance']!.value = value;
  }

  dispose(): void {
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}
