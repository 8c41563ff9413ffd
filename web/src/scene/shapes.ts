// What the picture is made from: the meshes of the server, decoded, and where each body stands.
import type { MeshFace } from "../api/types";

export type Triple = [number, number, number];

/** One shape. Lengths in millimetres of the world; x right, y away, z up. */
export interface Shape {
  positions: Float32Array;
  triangles: Uint32Array;
  faces: MeshFace[];
  /** Two ends a segment, six numbers. */
  edges: Float32Array;
}

export interface SceneBody {
  id: string;
  shape: Shape;
  /** Where it goes when the piece is taken apart: a direction of any length. */
  apart: Triple;
}

export interface Box {
  low: Triple;
  high: Triple;
}

export function bytesOf(base64: string): ArrayBuffer {
  const raw = atob(base64);
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) bytes[i] = raw.charCodeAt(i);
  return bytes.buffer;
}

export function boxOf(positions: Float32Array): Box {
  const low: Triple = [Infinity, Infinity, Infinity];
  const high: Triple = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i++) {
    const axis = (i % 3) as 0 | 1 | 2;
    const value = positions[i]!;
    if (value < low[axis]) low[axis] = value;
    if (value > high[axis]) high[axis] = value;
  }
  return { low, high };
}

export function boxAround(boxes: Box[]): Box | null {
  if (boxes.length === 0) return null;
  const low: Triple = [Infinity, Infinity, Infinity];
  const high: Triple = [-Infinity, -Infinity, -Infinity];
  for (const box of boxes) {
    for (const axis of [0, 1, 2] as const) {
      low[axis] = Math.min(low[axis], box.low[axis]);
      high[axis] = Math.max(high[axis], box.high[axis]);
    }
  }
  return { low, high };
}
