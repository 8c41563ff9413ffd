// What a maker typed into a field, as the value that the server sets; and back.
import type { End, Field, Path, SetValue } from "../api/types";

export type Item = string | Item[];

/** A TOML list of texts and of lists of texts, one in another. Null when it is none. */
export function nestedOf(value: string): Item[] | null {
  const open: Item[][] = [[]];
  for (const token of value.matchAll(/"([^"]*)"|'([^']*)'|([[\]])|([^\s,"'[\]]+)/g)) {
    if (token[3] === "[") {
      const list: Item[] = [];
      open.at(-1)!.push(list);
      open.push(list);
    } else if (token[3] === "]") {
      open.pop();
      if (open.length === 0) return null;
    } else open.at(-1)!.push(token[1] ?? token[2] ?? token[4] ?? "");
  }
  const whole = open[0]![0];
  return open.length === 1 && open[0]!.length === 1 && Array.isArray(whole) ? whole : null;
}

/** The texts of a TOML list: ["0", "-4", "0"]. Null when it is none. */
export function listOf(value: string): string[] | null {
  const list = nestedOf(value);
  return list?.every((item) => typeof item === "string") ? list : null;
}

/** One box of a value that has several: where its text stands, and what it is called. */
export interface Box {
  label: string;
  path: Path;
  value: string;
}

const ways = ["right", "away", "up"];
const partsOf: Record<string, string[]> = { runs: ["from", "to"], shift: ["across", "through"] };

/** The boxes of a value that is a list; null when it has but one. */
export function boxesOf({ path, value }: Field): Box[] | null {
  const list = nestedOf(value);
  if (!list?.length) return null;
  const names = partsOf[path.at(-1) ?? ""] ?? ways;
  const boxes = (item: Item, label: string, at: Path): Box[] =>
    typeof item === "string"
      ? [{ label, path: at, value: item }]
      : item.flatMap((one, i) => boxes(one, `${label}, ${ways[i] ?? i + 1}`, [...at, String(i)]));
  return list.flatMap((item, i) => boxes(item, names[i] ?? String(i + 1), [...path, String(i)]));
}

/** { against = "post-a", face = "+z" } as its keys and values. Null when it is none. */
export function tableOf(value: string): End | null {
  const inner = /^\{(.*)\}$/s.exec(value.trim())?.[1];
  if (inner === undefined) return null;
  const pairs = [...inner.matchAll(/([\w-]+)\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s,}]+))/g)];
  return Object.fromEntries(pairs.map((pair) => [pair[1], pair[2] ?? pair[3] ?? pair[4]])) as End;
}

/** How an end is cut, in words: "against leg-a, face +z". */
export function wordsOfEnd(value: string): string {
  const table = tableOf(value);
  if (!table) return value;
  return Object.entries(table).map(([key, of]) => `${key.replaceAll("-", " ")} ${of}`).join(", ");
}

export function setValueOf(kind: Field["kind"], typed: string): SetValue {
  const text = typed.trim();
  if (kind === "switch") return text === "true";
  return listOf(text) ?? (kind === "end" ? tableOf(text) : null) ?? text;
}
