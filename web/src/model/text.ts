// Splices of a text, counted in UTF-16 code units as JavaScript strings are.
import type { TextSplice } from "../api/types";

export function spliced(text: string, splices: TextSplice[]): string {
  return splices.reduce(
    (now, { from, to, with: put }) => now.slice(0, from) + put + now.slice(to),
    text,
  );
}
