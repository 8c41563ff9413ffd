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

/** All that answers a wish, in an order to step through: boards, or the places of one board after another. */
export function candidates(bodies: readonly SceneBody[], kind: PickKind): Picked[] {
  if (kind !== "board") return bodies.flatMap(placesOf);
  return bodies.map(({ body }) => {
    const [a, b] = [triple(body.line[0]!), triple(body.line[1]!)];
    const at: Triple = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];
    return { board: body.id, at, face: null, normal: null, words: body.id };
  });
}

/** The next one that `suits`, from `now` on in steps of `by`, round and round; the first when there is none yet. */
export function stepped(list: readonly Picked[], now: Picked | null, by: 1 | -1, suits = (_: Picked) => true): Picked | null {
  const same = (a: Picked, b: Picked) => a.board === b.board && a.at.every((v, k) => v === b.at[k]);
  const at = now ? list.findIndex((one) => same(one, now)) : by > 0 ? -1 : list.length;
  for (let i = 1; i <= list.length; i++) {
    const one = list[(at + by * i + list.length * (i + 1)) % list.length]!;
    if (suits(one)) return one;
  }
  return null;
}
