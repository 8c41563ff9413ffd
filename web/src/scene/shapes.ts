// What the picture is made from: the meshes of the server, decoded, and where each body stands.
import type { Body, Mesh, MeshFace, Moved } from "../api/types";

export type Triple = [number, number, number];

/** One shape in a board's own frame, in millimetres. */
export interface Shape {
  points: Float32Array;
  triangles: Uint32Array;
  /** Two points a line. */
  edges: Uint32Array;
  faces: MeshFace[];
}

export interface SceneBody {
  body: Body;
  shape: Shape;
}

export interface Box {
  low: Triple;
  high: Triple;
}

const axes = [0, 1, 2] as const;

function bytesOf(base64: string): ArrayBuffer {
  const raw = atob(base64);
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) bytes[i] = raw.charCodeAt(i);
  return bytes.buffer;
}

export function shapeOf(mesh: Mesh): Shape {
  return {
    points: new Float32Array(bytesOf(mesh.points)),
    triangles: new Uint32Array(bytesOf(mesh.triangles)),
    edges: new Uint32Array(bytesOf(mesh.edges)),
    faces: mesh.faces,
  };
}

export const triple = (v: readonly number[]): Triple => [v[0] ?? 0, v[1] ?? 0, v[2] ?? 0];

/** From a board's own frame into the world. */
export function toWorld({ frame }: Body, p: Triple): Triple {
  const at: Triple = [0, 0, 0];
  for (const k of axes) {
    at[k] = frame.origin[k]! + frame.x[k]! * p[0] + frame.y[k]! * p[1] + frame.z[k]! * p[2];
  }
  return at;
}

/** A direction of a board's own frame in the world. */
export function turned({ frame }: Body, d: Triple): Triple {
  const out: Triple = [0, 0, 0];
  for (const k of axes) out[k] = frame.x[k]! * d[0] + frame.y[k]! * d[1] + frame.z[k]! * d[2];
  return out;
}

/** Whether the board is a mirror image of its mesh, so that its triangles go round the other way. */
export function isMirrored({ frame: { x, y, z } }: Body): boolean {
  const cross = [
    x[1]! * y[2]! - x[2]! * y[1]!,
    x[2]! * y[0]! - x[0]! * y[2]!,
    x[0]! * y[1]! - x[1]! * y[0]!,
  ];
  return cross[0]! * z[0]! + cross[1]! * z[1]! + cross[2]! * z[2]! < 0;
}

export function pointOf({ body, shape }: SceneBody, index: number): Triple {
  const p = index * 3;
  return toWorld(body, [shape.points[p]!, shape.points[p + 1]!, shape.points[p + 2]!]);
}

export function boxAround(boxes: { low: readonly number[]; high: readonly number[] }[]): Box | null {
  if (boxes.length === 0) return null;
  const low: Triple = [Infinity, Infinity, Infinity];
  const high: Triple = [-Infinity, -Infinity, -Infinity];
  for (const box of boxes) {
    for (const k of axes) {
      low[k] = Math.min(low[k], box.low[k]!);
      high[k] = Math.max(high[k], box.high[k]!);
    }
  }
  return { low, high };
}

/** How far each board is moved, at a share of the way. */
export function movedBy(list: readonly Moved[], share: number): ReadonlyMap<string, Triple> {
  return new Map(list.map(({ board, by }) => [board, [by[0]! * share, by[1]! * share, by[2]! * share]]));
}
