// All bodies as two buffers, one of triangles and one of lines: two calls to the drawing hardware
// whatever the piece has, so that it turns smoothly without any.
import {
  BufferAttribute,
  BufferGeometry,
  Color,
  DoubleSide,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
  type Plane,
} from "three";
import type { Colours } from "./colours";
import type { SceneBody, Triple } from "./shapes";

/** How one body is shown now. */
export interface Showing {
  offset: Triple;
  /** plain, chosen, pointed at, at fault, of the step in hand, not there yet */
  as: "plain" | "chosen" | "hover" | "fault" | "hidden";
}

export interface Range {
  triangles: [number, number];
  vertices: [number, number];
  edges: [number, number];
}

const lightFrom: Triple = normal([0.45, -0.62, 0.86]);

function normal(v: Triple): Triple {
  const length = Math.hypot(...v) || 1;
  return [v[0] / length, v[1] / length, v[2] / length];
}

export class Drawn {
  readonly solid: Mesh<BufferGeometry, MeshBasicMaterial>;
  readonly lines: LineSegments<BufferGeometry, LineBasicMaterial>;
  ranges: Range[] = [];
  bodies: SceneBody[] = [];
  private resting = new Float32Array(0);
  private restingEdges = new Float32Array(0);
  private shade = new Float32Array(0);
  private colours: Colours;

  constructor(colours: Colours) {
    this.colours = colours;
    this.solid = new Mesh(
      new BufferGeometry(),
      new MeshBasicMaterial({
        vertexColors: true,
        side: DoubleSide,
        polygonOffset: true,
        polygonOffsetFactor: 1,
        polygonOffsetUnits: 1,
      }),
    );
    this.lines = new LineSegments(
      new BufferGeometry(),
      new LineBasicMaterial({ vertexColors: true }),
    );
    this.solid.frustumCulled = false;
    this.lines.frustumCulled = false;
    this.solid.matrixAutoUpdate = false;
    this.lines.matrixAutoUpdate = false;
  }

  dispose(): void {
    for (const part of [this.solid, this.lines]) {
      part.geometry.dispose();
      part.material.dispose();
    }
  }

  recolour(colours: Colours): void {
    this.colours = colours;
  }

  clip(planes: Plane[]): void {
    this.solid.material.clippingPlanes = planes;
    this.lines.material.clippingPlanes = planes;
  }

  /** Takes new bodies. Their triangles are spread out, so that each face has its own flat shade. */
  take(bodies: SceneBody[]): void {
    this.bodies = bodies;
    let corners = 0;
    let ends = 0;
    for (const { shape } of bodies) {
      corners += shape.triangles.length;
      ends += shape.edges.length / 3;
    }
    this.resting = new Float32Array(corners * 3);
    this.restingEdges = new Float32Array(ends * 3);
    this.shade = new Float32Array(corners);
    this.ranges = [];
    let corner = 0;
    let end = 0;
    for (const { shape } of bodies) {
      const from = corner;
      corner = this.spread(shape.positions, shape.triangles, corner);
      this.restingEdges.set(shape.edges, end * 3);
      const edgeFrom = end;
      end += shape.edges.length / 3;
      this.ranges.push({
        triangles: [from / 3, corner / 3],
        vertices: [from, corner],
        edges: [edgeFrom, end],
      });
    }
    this.replace(this.solid.geometry, corners);
    this.replace(this.lines.geometry, ends);
  }

  private spread(positions: Float32Array, triangles: Uint32Array, at: number): number {
    const out = this.resting;
    for (let t = 0; t < triangles.length; t += 3) {
      for (let k = 0; k < 3; k++) {
        const source = triangles[t + k]! * 3;
        const target = (at + t + k) * 3;
        out[target] = positions[source]!;
        out[target + 1] = positions[source + 1]!;
        out[target + 2] = positions[source + 2]!;
      }
      this.shade.fill(shadeOf(out, (at + t) * 3), at + t, at + t + 3);
    }
    return at + triangles.length;
  }

  private replace(geometry: BufferGeometry, count: number): void {
    const now = geometry.getAttribute("position") as BufferAttribute | undefined;
    if (now && now.count === count) return;
    geometry.dispose();
    geometry.setAttribute("position", new BufferAttribute(new Float32Array(count * 3), 3));
    geometry.setAttribute("color", new BufferAttribute(new Float32Array(count * 3), 3));
  }

  /** Lays each body where it is shown, in the colour of what it is. */
  show(showing: (body: number) => Showing): void {
    const solid = this.solid.geometry;
    const lines = this.lines.geometry;
    const place = attribute(solid, "position");
    const tint = attribute(solid, "color");
    const linePlace = attribute(lines, "position");
    const lineTint = attribute(lines, "color");
    this.ranges.forEach((range, index) => {
      const { offset, as } = showing(index);
      const hidden = as === "hidden";
      lay(place, this.resting, range.vertices, offset, hidden);
      lay(linePlace, this.restingEdges, range.edges, offset, hidden);
      const wood = this.colours.wood[as];
      const pencil = this.colours.line[as];
      for (let i = range.vertices[0]; i < range.vertices[1]; i++) put(tint, i, wood, this.shade[i]!);
      for (let i = range.edges[0]; i < range.edges[1]; i++) put(lineTint, i, pencil, 1);
    });
    for (const geometry of [solid, lines]) {
      for (const name of ["position", "color"]) geometry.getAttribute(name).needsUpdate = true;
    }
  }

  /** The body that a triangle of the picture belongs to, and its number there. */
  ownerOf(triangle: number): { body: number; triangle: number } | null {
    const body = this.ranges.findIndex(
      ({ triangles }) => triangle >= triangles[0] && triangle < triangles[1],
    );
    return body < 0 ? null : { body, triangle: triangle - this.ranges[body]!.triangles[0] };
  }
}

function attribute(geometry: BufferGeometry, name: string): Float32Array {
  return (geometry.getAttribute(name) as BufferAttribute).array as Float32Array;
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
  offset: Triple,
  hidden: boolean,
): void {
  if (hidden) {
    into.fill(0, from * 3, to * 3);
    return;
  }
  for (let i = from * 3; i < to * 3; i += 3) {
    into[i] = resting[i]! + offset[0];
    into[i + 1] = resting[i + 1]! + offset[1];
    into[i + 2] = resting[i + 2]! + offset[2];
  }
}

/** A drawing's shade: light from the upper left in front, never black. */
function shadeOf(p: Float32Array, at: number): number {
  const a: Triple = [p[at + 3]! - p[at]!, p[at + 4]! - p[at + 1]!, p[at + 5]! - p[at + 2]!];
  const b: Triple = [p[at + 6]! - p[at]!, p[at + 7]! - p[at + 1]!, p[at + 8]! - p[at + 2]!];
  const n = normal([
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ]);
  const lit = n[0] * lightFrom[0] + n[1] * lightFrom[1] + n[2] * lightFrom[2];
  return 0.8 + 0.2 * Math.max(-0.9, lit);
}
