import type { TextSplice } from "../api/types";

/** The one splice that turns `from` into `to`; null when they are alike. */
export function difference(from: string, to: string): TextSplice | null {
  if (from === to) return null;
  const most = Math.min(from.length, to.length);
  let head = 0;
  while (head < most && from[head] === to[head]) head++;
  let tail = 0;
  while (tail < most - head && from[from.length - 1 - tail] === to[to.length - 1 - tail]) tail++;
  return { from: head, to: from.length - tail, with: to.slice(head, to.length - tail) };
}
