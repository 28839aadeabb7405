/** The wound ball itself, and the one soft shadow under it. */

import { Matrix3, Mesh, PlaneGeometry, ShaderMaterial, Vector3, type CubeTexture, type Texture } from 'three';
import { BALL_FRAGMENT, BALL_VERTEX, SHADOW_FRAGMENT, SHADOW_VERTEX } from './shaders';
import { linear, PAINTED } from './threads';

export class Ground {
  readonly ball: Mesh<PlaneGeometry, ShaderMaterial>;
  readonly shadow: Mesh<PlaneGeometry, ShaderMaterial>;

  constructor() {
    const plane = new PlaneGeometry(2, 2);
    this.ball = new Mesh(
      plane,
      new ShaderMaterial({
        ...PAINTED,
        vertexShader: BALL_VERTEX,
        fragmentShader: BALL_FRAGMENT,
        uniforms: {
          uDistance: { value: 4 },
          uGrown: { value: 1.03 },
          uTurned: { value: new Matrix3() },
          uGround: { value: new Vector3(0.2, 0.2, 0.2) },
          uWrap: { value: null as CubeTexture | Texture | null },
        },
      }),
    );
    this.shadow = new Mesh(
      plane,
      new ShaderMaterial({
        ...PAINTED,
        vertexShader: SHADOW_VERTEX,
        fragmentShader: SHADOW_FRAGMENT,
        uniforms: { uDistance: { value: 4 }, uDark: { value: 0.42 } },
      }),
    );
    this.shadow.renderOrder = 0;
    this.ball.renderOrder = 1;
    for (const mesh of [this.ball, this.shadow]) mesh.frustumCulled = false;
  }

  wrap(texture: Texture): void {
    this.ball.material.uniforms['uWrap']!.value = texture;
  }

  colour(hex: string): void {
    this.ball.material.uniforms['uGround']!.value = new Vector3(...linear(hex));
  }

  dark(share: number): void {
    this.shadow.material.uniforms['uDark']!.value = share;
  }

  set distance(value: number) {
    for (const mesh of [this.ball, this.shadow]) mesh.material.uniforms['uDistance']!.value = value;
  }

  /** The turn from view to ball, so that the wrap turns with the ball. */
  set turned(value: Matrix3) {
    this.ball.material.uniforms['uTurned']!.value = value;
  }

  dispose(): void {
    this.ball.geometry.dispose();
    this.ball.material.dispose();
    this.shadow.material.dispose();
  }
}
