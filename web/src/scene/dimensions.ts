// Dimension lines in the picture: over all, and of the board that is chosen. The figures are the
// server's; here is only where they stand.
import type { Body, View } from "../api/types";
import { type Triple, triple } from "./shapes";

export interface Dimension {
  text: string;
  at: Triple;
  /** Ends of lines, in pairs. */
  lines: Triple[];
}

const axes = [0, 1, 2] as const;

function along(from: Triple, to: Triple, text: string, tick: Triple): Dimension {
  const half: Triple = [0, 0, 0];
  const lines: Triple[] = [from, to];
  for (const k of axes) half[k] = (from[k] + to[k]) / 2;
  for (const end of [from, to]) {
    lines.push(
      [end[0] - tick[0], end[1] - tick[1], end[2] - tick[2]],
      [end[0] + tick[0], end[1] + tick[1], end[2] + tick[2]],
    );
  }
  return { text, at: half, lines };
}

/** `apart`: how far boards are moved; the piece as a whole has no size then. */
export function dimensionsOf(view: View, chosen: Body | null, apart: ReadonlyMap<string, Triple> | null): Dimension[] {
  const ofChosen = chosen ? [ofBoard(chosen, reachOf(view), apart?.get(chosen.id) ?? [0, 0, 0])] : [];
  return apart ? ofChosen : [...overAll(view), ...ofChosen];
}

function reachOf({ totals: { low, high } }: View): number {
  return Math.hypot(high[0]! - low[0]!, high[1]! - low[1]!, high[2]! - low[2]!);
}

function overAll(view: View): Dimension[] {
  const { low: l, high: h, size } = view.totals;
  const low = triple(l);
  const high = triple(h);
  const reach = reachOf(view);
  const off = reach * 0.06;
  const tick = reach * 0.012;
  return [
    along([low[0], low[1] - off, low[2]], [high[0], low[1] - off, low[2]], size[0]?.text ?? "", [0, tick, 0]),
    along([high[0] + off, low[1], low[2]], [high[0] + off, high[1], low[2]], size[1]?.text ?? "", [tick, 0, 0]),
    along([high[0] + off, low[1], low[2]], [high[0] + off, low[1], high[2]], size[2]?.text ?? "", [tick, 0, 0]),
  ];
}

function ofBoard(board: Body, reach: number, by: Triple): Dimension {
  const end = (point: readonly number[]): Triple => [point[0]! + by[0], point[1]! + by[1], point[2]! + by[2]];
  const tick = reach * 0.012;
  const side: Triple = [board.frame.y[0]! * tick, board.frame.y[1]! * tick, board.frame.y[2]! * tick];
  return along(end(board.line[0]!), end(board.line[1]!), `${board.id}: ${board.length.text}`, side);
}
