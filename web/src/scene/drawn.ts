// All bodies as two buffers, one of triangles and one of lines: a few calls to the drawing hardware
// whatever the piece has, so that it turns smoothly without any.
import {
  BackSide,
  BufferAttribute,
  BufferGeometry,
  type Color,
  FrontSide,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
  type Plane,
} from "three";
import type { As, Colours } from "./colours";
import { isMirrored, pointOf, type SceneBody, type Triple } from "./shapes";

/** How one body is shown now. */
export interface Showing {
  offset: Triple;
  as: As;
}

interface Range {
  corners: [number, number];
  ends: [number, number];
}

const lightFrom: Triple = unit([0.38, -0.66, 0.9]);

function unit(v: Triple): Triple {
  const length = Math.hypot(...v) || 1;
  return [v[0] / length, v[1] / length, v[2] / length];
}

export class Drawn {
  readonly solid = new Mesh(
    new BufferGeometry(),
    new MeshBasicMaterial({
      vertexColors: true,
      side: FrontSide,
      polygonOffset: true,
      polygonOffsetFactor: 1,
      polygonOffsetUnits: 1,
    }),
  );
  /** What shows where the piece is cut open: the far side of each board in one flat colour. */
  readonly inside = new Mesh(this.solid.geometry, new MeshBasicMaterial({ side: BackSide }));
  readonly lines = new LineSegments(
    new BufferGeometry(),
    new LineBasicMaterial({ vertexColors: true }),
  );
  bodies: SceneBody[] = [];
  private ranges: Range[] = [];
  private resting = new Float32Array(0);
  private restingLines = new Float32Array(0);
  private shade = new Float32Array(0);

  constructor(private colours: Colours) {
    for (const part of [this.solid, this.inside, this.lines]) {
      part.frustumCulled = false;
      part.matrixAutoUpdate = false;
    }
    this.inside.visible = false;
    this.recolour(colours);
  }

  dispose(): void {
    for (const part of [this.solid, this.inside, this.lines]) {
      part.geometry.dispose();
      part.material.dispose();
    }
  }

  recolour(colours: Colours): void {
    this.colours = colours;
    this.inside.material.color.copy(colours.cut);
  }

  clip(planes: Plane[]): void {
    for (const part of [this.solid, this.inside, this.lines]) part.material.clippingPlanes = planes;
    this.inside.visible = planes.length > 0;
  }

  /** Takes new bodies. Each triangle gets corners of its own, and so its own flat shade. */
  take(bodies: SceneBody[]): void {
    this.bodies = bodies;
    const corners = bodies.reduce((sum, { shape }) => sum + shape.triangles.length, 0);
    const ends = bodies.reduce((sum, { shape }) => sum + shape.edges.length, 0);
    this.resting = new Float32Array(corners * 3);
    this.restingLines = new Float32Array(ends * 3);
    this.shade = new Float32Array(corners);
    this.ranges = [];
    let corner = 0;
    let end = 0;
    for (const one of bodies) {
      const range: Range = { corners: [corner, corner], ends: [end, end] };
      corner = this.spreadTriangles(one, corner);
      end = this.spreadLines(one, end);
      range.corners[1] = corner;
      range.ends[1] = end;
      this.ranges.push(range);
    }
    resize(this.solid.geometry, corners);
    resize(this.lines.geometry, ends);
  }

  private spreadTriangles(one: SceneBody, at: number): number {
    const { points, triangles } = one.shape;
    const world = new Float32Array(points.length);
    for (let i = 0; i < points.length / 3; i++) world.set(pointOf(one, i), i * 3);
    const order = isMirrored(one.body) ? [0, 2, 1] : [0, 1, 2];
    for (let t = 0; t < triangles.length; t += 3) {
      for (let k = 0; k < 3; k++) {
        const source = triangles[t + order[k]!]! * 3;
        this.resting.set(world.subarray(source, source + 3), (at + t + k) * 3);
      }
      this.shade.fill(shadeOf(this.resting, (at + t) * 3), at + t, at + t + 3);
    }
    return at + triangles.length;
  }

  private spreadLines(one: SceneBody, at: number): number {
    const { edges } = one.shape;
    for (let e = 0; e < edges.length; e++) {
      this.restingLines.set(pointOf(one, edges[e]!), (at + e) * 3);
    }
    return at + edges.length;
  }

  /** Lays each body where it is shown, in the colour of what it is. */
  show(showing: (body: number) => Showing): void {
    const place = arrayOf(this.solid.geometry, "position");
    const tint = arrayOf(this.solid.geometry, "color");
    const linePlace = arrayOf(this.lines.geometry, "position");
    const lineTint = arrayOf(this.lines.geometry, "color");
    this.ranges.forEach(({ corners, ends }, index) => {
      const { offset, as } = showing(index);
      lay(place, this.resting, corners, as === "ghost" ? null : offset);
      lay(linePlace, this.restingLines, ends, offset);
      const wood = this.colours.wood[as];
      const pencil = this.colours.line[as];
      for (let i = corners[0]; i < corners[1]; i++) put(tint, i, wood, this.shade[i]!);
      for (let i = ends[0]; i < ends[1]; i++) put(lineTint, i, pencil, 1);
    });
    for (const { geometry } of [this.solid, this.lines]) {
      for (const name of ["position", "color"]) geometry.getAttribute(name).needsUpdate = true;
    }
  }

  /** The body that a triangle of the picture belongs to, and the triangle's number there. */
  ownerOf(triangle: number): { index: number; triangle: number } | null {
    const corner = triangle * 3;
    const index = this.ranges.findIndex(({ corners }) => corner >= corners[0] && corner < corners[1]);
    return index < 0 ? null : { index, triangle: triangle - this.ranges[index]!.corners[0] / 3 };
  }
}

function arrayOf(geometry: BufferGeometry, name: string): Float32Array {
  return (geometry.getAttribute(name) as BufferAttribute).array as Float32Array;
}

function resize(geometry: BufferGeometry, count: number): void {
  const now = geometry.getAttribute("position") as BufferAttribute | undefined;
  if (now?.count === count) return;
  geometry.dispose();
  for (const name of ["position", "color"]) {
    geometry.setAttribute(name, new BufferAttribute(new Float32Array(count * 3), 3));
  }
}

function put(tint: Float32Array, at: number, colour: Color, shade: number): void {
  tint[at * 3] = colour.r * shade;
  tint[at * 3 + 1] = colour.g * shade;
  tint[at * 3 + 2] = colour.b * shade;
}

function lay(
  into: Float32Array,
  resting: Float32Array,
  [from, to]: [number, number],
  offset: Triple | null,
): void {
  if (!offset) {
    into.fill(0, from * 3, to * 3);
    return;
  }
  for (let i = from * 3; i < to * 3; i += 3) {
    into[i] = resting[i]! + offset[0];
    into[i + 1] = resting[i + 1]! + offset[1];
    into[i + 2] = resting[i + 2]! + offset[2];
  }
}

/** A drawing's shade: light from the upper left in front, and never black. */
function shadeOf(p: Float32Array, at: number): number {
  const a = [p[at + 3]! - p[at]!, p[at + 4]! - p[at + 1]!, p[at + 5]! - p[at + 2]!] as const;
  const b = [p[at + 6]! - p[at]!, p[at + 7]! - p[at + 1]!, p[at + 8]! - p[at + 2]!] as const;
  const n = unit([
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ]);
  const lit = n[0] * lightFrom[0] + n[1] * lightFrom[1] + n[2] * lightFrom[2];
  return 0.88 + 0.14 * Math.max(-0.8, lit);
}
