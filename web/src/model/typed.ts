// What a maker typed into a field, as the value that the server sets; and back.
import type { End, Field, SetValue } from "../api/types";

/** The texts of a TOML list on one line: ["0", "-4", "0"]. Null when it is none. */
export function listOf(value: string): string[] | null {
  const inner = /^\[(.*)\]$/s.exec(value.trim())?.[1];
  if (inner === undefined) return null;
  const items = [...inner.matchAll(/"([^"]*)"|'([^']*)'|([^\s,"']+)/g)];
  return items.map((item) => item[1] ?? item[2] ?? item[3] ?? "");
}

/** { against = "post-a", face = "+z" } as its keys and values. Null when it is none. */
export function tableOf(value: string): End | null {
  const inner = /^\{(.*)\}$/s.exec(value.trim())?.[1];
  if (inner === undefined) return null;
  const pairs = [...inner.matchAll(/([\w-]+)\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s,}]+))/g)];
  return Object.fromEntries(pairs.map((pair) => [pair[1], pair[2] ?? pair[3] ?? pair[4]])) as End;
}

export function setValueOf(kind: Field["kind"], typed: string): SetValue {
  const text = typed.trim();
  if (kind === "switch") return text === "true";
  return listOf(text) ?? (kind === "end" ? tableOf(text) : null) ?? text;
}
