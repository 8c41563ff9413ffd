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

export function dimensionsOf(view: View, chosen: Body | null): Dimension[] {
  const { low: l, high: h, size } = view.totals;
  const low = triple(l);
  const high = triple(h);
  const reach = Math.hypot(high[0] - low[0], high[1] - low[1], high[2] - low[2]);
  const off = reach * 0.06;
  const tick = reach * 0.012;
  const found = [
    along([low[0], low[1] - off, low[2]], [high[0], low[1] - off, low[2]], size[0]?.text ?? "", [0, tick, 0]),
    along([high[0] + off, low[1], low[2]], [high[0] + off, high[1], low[2]], size[1]?.text ?? "", [tick, 0, 0]),
    along([high[0] + off, low[1], low[2]], [high[0] + off, low[1], high[2]], size[2]?.text ?? "", [tick, 0, 0]),
  ];
  if (!chosen) return found;
  const start = triple(chosen.line[0]!);
  const end = triple(chosen.line[1]!);
  const side: Triple = [chosen.frame.y[0]! * tick, chosen.frame.y[1]! * tick, chosen.frame.y[2]! * tick];
  return [...found, along(start, end, `${chosen.id}: ${chosen.length.text}`, side)];
}
