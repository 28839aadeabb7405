/** The shaders: a ribbon along an arc that faces the eye, shaded as cord; the wound ball; a pin's head. */

import { TEXELS_ACROSS } from './arcs';

/** Steps a piece is cut into. */
export const STEPS = 3;
export const CORNERS = 2 * (STEPS + 1);
/** A ribbon is this many half-widths wide each side: beyond 1 lies the shadow it casts on its neighbours. */
export const FRINGE = 1.8;

const LIGHT = /* glsl */ `
const vec3 KEY = normalize(vec3(-0.52, 0.66, 0.62));
const vec3 FILL = normalize(vec3(0.75, 0.05, 0.35));
const vec3 KEY_COLOUR = vec3(1.0, 0.965, 0.91) * 1.02;
const vec3 FILL_COLOUR = vec3(0.80, 0.88, 1.0) * 0.26;
const vec3 ROOM = vec3(0.93, 0.95, 1.0) * 0.30;

vec3 toScreen(vec3 c) {
  c = max(c, 0.0);
  return max(1.055 * pow(c, vec3(1.0 / 2.4)) - 0.055, 0.0);
}
float soft(float d) { return smoothstep(-0.35, 1.0, d) * 1.12; }
vec3 lightOn(vec3 n, vec3 ball) {
  float key = soft(mix(dot(ball, KEY), dot(n, KEY), 0.55));
  float fill = max(0.0, mix(dot(ball, FILL), dot(n, FILL), 0.5));
  float up = 0.78 + 0.22 * ball.y;
  return KEY_COLOUR * key + FILL_COLOUR * fill + ROOM * up;
}
float hash(vec2 p) { return fract(sin(dot(p, vec2(127.1, 311.7))) * 43758.5453); }
`;

const ARC = /* glsl */ `
uniform sampler2D uArcs;
vec4 texel(int k) { return texelFetch(uArcs, ivec2(k % ${TEXELS_ACROSS}, k / ${TEXELS_ACROSS}), 0); }
struct Arc { vec3 n; float c; float r; vec3 e1; vec3 e2; float sweep; };
Arc arcOf(int k) {
  vec4 a = texel(2 * k);
  vec4 b = texel(2 * k + 1);
  float r = sqrt(max(1e-6, 1.0 - a.w * a.w));
  return Arc(a.xyz, a.w, r, b.xyz, cross(a.xyz, b.xyz), b.w);
}
vec3 pointOn(Arc a, float t) { return a.c * a.n + a.r * (cos(t) * a.e1 + sin(t) * a.e2); }
vec3 tangentOn(Arc a, float t) { return cos(t) * a.e2 - sin(t) * a.e1; }
`;

export const THREAD_VERTEX = /* glsl */ `
precision highp float;
precision highp int;
${ARC}
uniform sampler2D uThreads;
uniform float uDistance;
uniform sampler2D uPieces;
uniform float uFringe;
out float vAcross;
out vec2 vAlong;
out vec3 vBall;
out vec3 vTangent;
out vec3 vSide;
out vec3 vSeen;
flat out vec3 vColour;
flat out vec3 vKind;

vec4 pieceTexel(int k) { return texelFetch(uPieces, ivec2(k % ${TEXELS_ACROSS}, k / ${TEXELS_ACROSS}), 0); }

void main() {
  // No attributes: a vertex knows by its number which piece it belongs to and which corner it is.
  int piece = gl_VertexID / ${CORNERS};
  int corner = gl_VertexID % ${CORNERS};
  float share = float(corner / 2) / ${STEPS}.0;
  float across = float(corner % 2) * 2.0 - 1.0;
  vec4 aWhere = pieceTexel(2 * piece);
  vec4 aHow = pieceTexel(2 * piece + 1);
  Arc arc = arcOf(int(aWhere.x + 0.5));
  vec4 thread = texelFetch(uThreads, ivec2(int(aWhere.w + 0.5), 0), 0);
  vec4 body = texelFetch(uThreads, ivec2(int(aWhere.w + 0.5), 1), 0);
  float half_ = body.x;
  int ends = int(aHow.z + 0.5);
  float cap = 0.6 * half_ / arc.r;
  float lap = 0.8 * half_ / arc.r; // stretches overlap a little, so that no seam shows where a chain bends
  float from = aWhere.y - ((ends & 1) != 0 ? cap : lap);
  float to = aWhere.z + ((ends & 2) != 0 ? cap : lap);
  vec3 middle = normalMatrix * pointOn(arc, 0.5 * (from + to));
  vColour = thread.rgb;
  vKind = vec3(thread.a, aHow.y, body.y);
  if (middle.z * uDistance < 1.0 - uDistance * (0.5 * (to - from) * arc.r + 0.2)) {
    gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
    vAcross = 0.0; vAlong = vec2(0.0); vBall = vTangent = vSide = vSeen = vec3(0.0);
    return;
  }
  float t = mix(from, to, share);
  vec3 p = pointOn(arc, t);
  float height = 1.0 + half_ * (0.75 + 0.22 * aHow.x);
  vec3 seen = (modelViewMatrix * vec4(p * height, 1.0)).xyz;
  vec3 tangent = normalMatrix * tangentOn(arc, t);
  vec3 eye = normalize(-seen);
  vec3 side = cross(tangent, eye);
  side *= inversesqrt(max(dot(side, side), 1e-4));
  vAcross = across * uFringe;
  vSeen = seen + side * vAcross * half_;
  float scale = arc.r / half_;
  vAlong = vec2(t * scale, 0.0);
  vAlong.y = max((ends & 1) != 0 ? (aWhere.y - t) * scale : -9.0, (ends & 2) != 0 ? (t - aWhere.z) * scale : -9.0);
  vBall = normalMatrix * p;
  vTangent = tangent;
  vSide = side;
  gl_Position = projectionMatrix * vec4(vSeen, 1.0);
}
`;

export const THREAD_FRAGMENT = /* glsl */ `
precision highp float;
${LIGHT}
uniform float uDistance;
uniform float uCast;
in float vAcross;
in vec2 vAlong;
in vec3 vBall;
in vec3 vTangent;
in vec3 vSide;
in vec3 vSeen;
flat in vec3 vColour;
flat in vec3 vKind;
out vec4 painted;

void main() {
  vec3 ball = normalize(vBall);
  vec3 ray = normalize(vSeen);
  float clear = 1.0;
  if (ball.z * uDistance < 1.0) {
    // Behind the horizon only what stands out past the ball's edge is seen.
    float past = uDistance * length(ray.xy);
    if (past < 1.0) discard;
    clear = smoothstep(1.0, 1.006, past);
  }
  float beyond = max(vAlong.y + 0.45, 0.0);
  float out_ = length(vec2(vAcross, beyond));
  float px = fwidth(vAcross) + 1e-5;
  float cover = clear * (1.0 - smoothstep(1.0 - px * 0.75, 1.0 + px * 0.75, out_));
  float fringe = (1.0 - cover) * clear * uCast * pow(clamp((${FRINGE.toFixed(2)} - out_) / ${(FRINGE - 1).toFixed(2)}, 0.0, 1.0), 1.6);
  if (cover < 0.004) {
    if (fringe < 0.004) discard;
    painted = vec4(0.0, 0.0, 0.0, fringe);
    return;
  }

  float u = clamp(vAcross, -0.985, 0.985);
  vec3 tangent = normalize(vTangent);
  vec3 side = normalize(vSide);
  vec3 up = cross(side, tangent);
  vec3 n = normalize(side * u + up * sqrt(1.0 - u * u));

  // Two plies twisted together: a helix on the cord, faded where a thread is under three pixels wide.
  float fine = 1.0 - smoothstep(0.28, 0.75, px);
  float period = vKind.z;
  float phase = 2.0 * asin(u) + 6.2831853 * vAlong.x / period;
  float ridge = abs(cos(0.5 * phase));
  float slope = -sin(phase) * fine;
  vec3 helix = normalize(tangent * (6.2831853 / period) + side * 2.0 / max(0.35, sqrt(1.0 - u * u)));
  vec3 lay = normalize(cross(n, helix));
  n = normalize(n - helix * slope * 0.34);
  float groove = mix(1.0, 0.62 + 0.38 * smoothstep(0.0, 0.55, ridge), fine);
  float fibre = 1.0 + (hash(floor(vec2(phase * 2.2 + vAlong.x * 1.3, vAlong.x * 0.35))) - 0.5) * 0.10 * fine;

  vec3 eye = -ray;
  vec3 toward = normalize(KEY + eye);
  float metal = vKind.x;
  vec3 strand = normalize(mix(tangent, lay, 0.5 * fine));
  float shine = sqrt(max(0.0, 1.0 - pow(dot(strand, toward), 2.0)));
  float sheen = pow(shine, mix(38.0, 18.0, metal)) * max(0.0, dot(n, KEY) * 0.75 + 0.25) * smoothstep(0.0, 0.5, dot(ball, KEY) + 0.25);
  // Where the needle goes in, the thread sinks and darkens.
  float sunk = mix(0.58, 1.0, smoothstep(0.45, -2.4, vAlong.y));
  float edge = (1.0 - 0.42 * pow(abs(u), 5.0)) * sunk;
  float rim = pow(1.0 - max(0.0, ball.z), 4.0);

  vec3 colour = vColour * lightOn(n, ball) * groove * fibre * edge;
  colour += mix(vec3(1.0, 0.98, 0.94) * 0.10 + vColour * 0.16, vColour * 1.1 + 0.12, metal) * sheen;
  if (metal > 0.5) {
    vec2 cell = floor(vec2(vAlong.x * 0.9, phase * 1.3));
    float spark = smoothstep(0.86, 1.0, hash(cell)) * pow(max(0.0, dot(n, toward)), 9.0);
    float broad = pow(max(0.0, dot(n, toward)), 5.0);
    colour = vColour * (0.30 + 0.62 * lightOn(n, ball)) * edge * mix(1.0, 0.72 + 0.4 * ridge, fine);
    colour += (vColour * 1.2 + 0.25) * (spark * 1.4 + broad * 0.55 + sheen * 0.5);
  }
  colour += vec3(0.75, 0.85, 1.0) * rim * 0.06;
  if (vKind.y > 1.5) { colour = mix(vec3(dot(colour, vec3(0.21, 0.72, 0.07))), colour, 0.25); colour = mix(colour, vec3(0.62), 0.45); }
  else if (vKind.y > 0.5) colour = colour * 1.25 + vec3(0.10, 0.07, 0.03);
  painted = vec4(toScreen(colour) * cover, cover + fringe);
}
`;

export const BALL_VERTEX = /* glsl */ `
precision highp float;
uniform float uDistance;
uniform float uGrown;
out vec3 vSeen;
void main() {
  float reach = uGrown * uDistance / sqrt(uDistance * uDistance - 1.0);
  vSeen = vec3(position.xy * reach, -uDistance);
  gl_Position = projectionMatrix * vec4(vSeen, 1.0);
}
`;

export const BALL_FRAGMENT = /* glsl */ `
precision highp float;
${LIGHT}
uniform float uDistance;
uniform mat3 uTurned;
uniform vec3 uGround;
uniform samplerCube uWrap;
in vec3 vSeen;
out vec4 painted;
void main() {
  vec3 ray = normalize(vSeen);
  vec3 middle = vec3(0.0, 0.0, -uDistance);
  float past = uDistance * length(ray.xy);
  float px = fwidth(past) + 1e-5;
  float cover = 1.0 - smoothstep(1.0 - px, 1.0 + px * 0.2, past);
  if (cover < 0.004) discard;
  float near = dot(middle, ray) - sqrt(max(0.0, 1.0 - past * past));
  vec3 n = normalize(ray * near - middle);
  vec4 wrap = texture(uWrap, uTurned * n * vec3(-1.0, 1.0, 1.0));
  vec3 run = normalize((transpose(uTurned) * ((wrap.gba * 2.0 - 1.0) * vec3(1.0, 1.0, 1.0))));
  vec3 toward = normalize(KEY - ray);
  float shine = pow(sqrt(max(0.0, 1.0 - pow(dot(run, toward), 2.0))), 24.0);
  vec3 colour = uGround * lightOn(n, n) * (0.55 + 0.62 * wrap.r);
  colour += (uGround * 0.5 + 0.035) * shine * 0.42 * smoothstep(-0.1, 0.7, dot(n, KEY));
  colour += vec3(0.75, 0.85, 1.0) * pow(1.0 - max(0.0, n.z), 4.0) * 0.05;
  painted = vec4(toScreen(colour) * cover, cover);
}
`;

/** The one soft shadow: under the ball, on the table. */
export const SHADOW_VERTEX = /* glsl */ `
precision highp float;
uniform float uDistance;
out vec2 vAt;
void main() {
  vAt = position.xy;
  gl_Position = projectionMatrix * vec4(position.xy * vec2(1.25, 0.30) + vec2(0.10, -1.02), -uDistance, 1.0);
}
`;

export const SHADOW_FRAGMENT = /* glsl */ `
precision highp float;
uniform float uDark;
in vec2 vAt;
out vec4 painted;
void main() {
  float d = length(vAt * vec2(1.0, 1.0));
  float a = uDark * pow(clamp(1.0 - d, 0.0, 1.0), 1.8);
  float core = uDark * 0.8 * pow(clamp(1.0 - length(vAt * vec2(2.0, 2.6) + vec2(0.12, -0.35)), 0.0, 1.0), 1.4);
  painted = vec4(vec3(0.11, 0.11, 0.14) * (a + core), a + core);
}
`;

/** Flat lines on the ball: guidelines on top, the ruler, a ring round a finding. */
export const LINE_VERTEX = /* glsl */ `
precision highp float;
precision highp int;
${ARC}
uniform float uHalf;
uniform float uDistance;
in float aArc;
out float vAcross;
out vec3 vBall;
out vec3 vSeen;
void main() {
  Arc arc = arcOf(int(aArc + 0.5));
  float t = arc.sweep * position.x;
  vec3 p = pointOn(arc, t);
  vec3 seen = (modelViewMatrix * vec4(p * 1.012, 1.0)).xyz;
  vec3 tangent = normalMatrix * tangentOn(arc, t);
  vec3 side = cross(tangent, normalize(-seen));
  side *= inversesqrt(max(dot(side, side), 1e-4));
  vAcross = position.y * 2.0;
  vSeen = seen + side * vAcross * uHalf;
  vBall = normalMatrix * p;
  gl_Position = projectionMatrix * vec4(vSeen, 1.0);
}
`;

export const LINE_FRAGMENT = /* glsl */ `
precision highp float;
uniform float uDistance;
uniform vec4 uColour;
in float vAcross;
in vec3 vBall;
in vec3 vSeen;
out vec4 painted;
void main() {
  float front = normalize(vBall).z * uDistance;
  float px = fwidth(vAcross) + 1e-5;
  float cover = (1.0 - smoothstep(1.0 - px, 1.0 + px, abs(vAcross))) * uColour.a;
  cover *= smoothstep(1.0, 1.06, front);
  if (cover < 0.004) discard;
  painted = vec4(uColour.rgb * cover, cover);
}
`;

export const PIN_VERTEX = /* glsl */ `
precision highp float;
uniform float uDistance;
uniform float uSize;
in vec3 aAt;
out vec2 vAt;
out float vFront;
void main() {
  vec3 n = normalMatrix * aAt;
  vFront = n.z * uDistance;
  vec3 seen = (modelViewMatrix * vec4(aAt * (1.0 + uSize * 1.3), 1.0)).xyz;
  vAt = position.xy * 2.0;
  gl_Position = projectionMatrix * vec4(seen + vec3(vAt * uSize, 0.0), 1.0);
}
`;

export const PIN_FRAGMENT = /* glsl */ `
precision highp float;
${LIGHT}
uniform vec3 uColour;
in vec2 vAt;
in float vFront;
out vec4 painted;
void main() {
  if (vFront < 1.0) discard;
  float d = length(vAt);
  float px = fwidth(d) + 1e-5;
  float cover = 1.0 - smoothstep(1.0 - px, 1.0 + px, d);
  float fringe = (1.0 - cover) * 0.5 * clamp(1.0 - length(vAt - vec2(0.45, -0.55)) / 1.25, 0.0, 1.0);
  vec3 n = vec3(vAt, sqrt(max(0.0, 1.0 - d * d)));
  vec3 h = normalize(KEY + vec3(0.0, 0.0, 1.0));
  vec3 colour = uColour * (0.35 + 0.8 * soft(dot(n, KEY))) + vec3(1.0, 0.95, 0.8) * pow(max(0.0, dot(n, h)), 40.0) * 0.9;
  painted = vec4(toScreen(colour) * cover, cover + fringe);
}
`;

/** Baking the wrap: fine threads as lines; red is brightness, the rest the way the thread runs. */
export const WRAP_VERTEX = /* glsl */ `
precision highp float;
in vec4 aTone;
out vec4 vTone;
void main() {
  vTone = aTone;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
`;

export const WRAP_FRAGMENT = /* glsl */ `
precision highp float;
in vec4 vTone;
out vec4 painted;
void main() { painted = vTone; }
`;
