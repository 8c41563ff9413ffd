// Places of a board that can be pointed at, or chosen from a list.
import { pointOf, type SceneBody, type Triple, triple } from "./shapes";

export type PickKind = "board" | "face" | "place";

export interface Picked {
  board: string;
  /** World place, mm, as the boards stand together. */
  at: Triple;
  /** Number of the face in the board's mesh, and what it is called. */
  face: number | null;
  normal: Triple | null;
  words: string;
}

/** All places of a board that can be pointed at by name. */
export function placesOf(one: SceneBody): Picked[] {
  const { id, line } = one.body;
  const place = (at: Triple, words: string): Picked => ({
    board: id,
    at,
    face: null,
    normal: null,
    words: `${id}, ${words}`,
  });
  const found = [
    place(triple(line[0]!), "start of its middle line"),
    place(triple(line[1]!), "end of its middle line"),
  ];
  const seen = new Set<number>();
  const { edges } = one.shape;
  for (let e = 0; e < edges.length; e += 2) {
    const a = pointOf(one, edges[e]!);
    const b = pointOf(one, edges[e + 1]!);
    found.push(place([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2], "middle of an edge"));
    for (const [index, at] of [[edges[e]!, a], [edges[e + 1]!, b]] as const) {
      if (!seen.has(index)) found.push(place(at, "corner"));
      seen.add(index);
    }
  }
  return found;
}
