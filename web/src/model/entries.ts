// What was typed into a form of the shop, as an entry of the books (docs/trade.md).
import type { TradeBoard, TradeOrder, TradeToBuy } from "../api/types";
import type { Unit } from "../api/unit.svelte";
import { isDay } from "./days";
import { coinsOf, typedOf } from "./money";

/** What cannot be sent: words, and the field that is meant as the program would point at it. */
export class Unfit extends Error {
  readonly at: string;
  constructor(words: string, at: string) {
    super(words);
    this.at = at;
  }
}

export type Happening = { event: string; day?: string } & Record<string, unknown>;

export function money(typed: string, at: string): number {
  const coins = coinsOf(typed);
  if (coins === null) throw new Unfit(typed.trim() ? `“${typed.trim()}” is no sum of money, like 12.50` : "A sum of money is needed here, like 12.50", at);
  return coins;
}
export const moneyOr0 = (typed: string, at: string): number => (typed.trim() ? money(typed, at) : 0);

export function number(typed: string, at: string): number {
  const value = Number(typed.trim().replace(",", "."));
  if (!typed.trim() || !Number.isFinite(value)) throw new Unfit(typed.trim() ? `“${typed.trim()}” is no number` : "A number is needed here", at);
  return value;
}
export function whole(typed: string, at: string, least = 1): number {
  const value = number(typed, at);
  if (!Number.isInteger(value) || value < least) throw new Unfit(`It must be a whole number, ${least} or more`, at);
  return value;
}
export function day(typed: string, at: string): string {
  if (!isDay(typed)) throw new Unfit("A day is needed here, like 2026-11-30", at);
  return typed;
}

/** A bare figure counts in the unit that is shown. */
export const length = (typed: string, unit: Unit): string =>
  /^[\d\s./]+$/.test(typed.trim()) ? `${typed.trim()} ${unit}` : typed.trim();

export function faults(typed: string, unit: Unit, at: string): [string, string][] {
  return typed
    .split(";")
    .filter((one) => one.trim())
    .map((one) => {
      const ends = one.split(/\bto\b|–/).map((end) => end.trim());
      if (ends.length !== 2 || !ends[0] || !ends[1]) throw new Unfit("Faults go from one place to another: 20 to 22; 40 to 41", at);
      return [length(ends[0], unit), length(ends[1], unit)];
    });
}

export interface BoardDraft {
  count: string;
  stock: string;
  species: string;
  thickness: string;
  width: string;
  length: string;
  faults: string;
  moisture: string;
  value: string;
  note: string;
}
export const blankBoard = (): BoardDraft => ({
  count: "1", stock: "", species: "", thickness: "", width: "", length: "", faults: "", moisture: "", value: "", note: "",
});
/** What is shown rounded, "~13 1/8", as it can be typed. */
export const typable = (text: string): string => text.replaceAll("~", "");

export const draftOf = (board: TradeBoard): BoardDraft => ({
  count: "1",
  stock: board.stock,
  species: board.species,
  thickness: typable(board.thickness.text),
  width: typable(board.width.text),
  length: typable(board.length.text),
  faults: typable(board.faults),
  moisture: board.moisture === null ? "" : String(board.moisture),
  value: typedOf(board.value),
  note: board.note,
});

/** Without what was left empty. */
function filled(facts: Record<string, unknown>): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(facts).filter(([, value]) => value !== "" && value !== 0 && value !== null && !(Array.isArray(value) && value.length === 0)),
  );
}

export function boardFacts(draft: BoardDraft, unit: Unit, at: string): Record<string, unknown> {
  if (!draft.length.trim()) throw new Unfit("How long is the board?", `${at}/length`);
  if (!draft.stock.trim() && !(draft.thickness.trim() && draft.width.trim()))
    throw new Unfit("What is it sold as, like 2x4? Or tell both how thick and how wide it is", `${at}/stock`);
  const one = (typed: string) => (typed.trim() ? length(typed, unit) : "");
  return filled({
    stock: draft.stock.trim(),
    species: draft.species.trim(),
    thickness: one(draft.thickness),
    width: one(draft.width),
    length: length(draft.length, unit),
    faults: faults(draft.faults, unit, `${at}/faults`),
    moisture: draft.moisture.trim() ? number(draft.moisture, `${at}/moisture`) : null,
    value: moneyOr0(draft.value, `${at}/value`),
    note: draft.note.trim(),
  });
}

/** A board measured again: what was not typed anew stays as it is, to the tick. */
export function factsAgain(board: TradeBoard, draft: BoardDraft, unit: Unit): Record<string, unknown> {
  const facts = boardFacts(draft, unit, "/facts");
  const before = draftOf(board);
  for (const key of ["thickness", "width", "length"] as const)
    if (draft[key] === before[key] && board[key].ticks) facts[key] = board[key].ticks;
  return facts;
}

/** All boards of the rows, each row as often as it says. */
export function boardsOf(rows: BoardDraft[], unit: Unit): Record<string, unknown>[] {
  return rows.flatMap((row, i) => {
    const count = whole(row.count, `/boards/${i}/count`);
    if (count > 1000) throw new Unfit("At most 1,000 in one row", `/boards/${i}/count`);
    return Array.from({ length: count }, () => boardFacts(row, unit, `/boards/${i}`));
  });
}

/** In which row the board stands that the program points at. */
export function rowOf(rows: BoardDraft[], board: number): number {
  let before = 0;
  return rows.findIndex((row) => (before += Number(row.count) || 1) > board);
}

/** Boards of a buying list, as they were bought. */
export const boughtOf = (line: TradeToBuy, count: number, each: number): Record<string, unknown>[] =>
  Array.from({ length: count }, () =>
    filled({ stock: line.stock, species: line.species, length: line.length.ticks, width: line.width.ticks, value: each }),
  );

export interface OrderDraft {
  buyer: string;
  piece: string;
  sizes: Record<string, string>;
  count: string;
  due: string;
  each: string;
  note: string;
}
export const blankOrder = (piece = "", each = ""): OrderDraft => ({ buyer: "", piece, sizes: {}, count: "1", due: "", each, note: "" });
export const draftOfOrder = (order: TradeOrder): OrderDraft => ({
  buyer: order.buyer,
  piece: order.piece,
  sizes: Object.fromEntries(order.sizes as [string, string][]),
  count: String(order.count),
  due: order.due ?? "",
  each: order.each ? typedOf(order.each) : "",
  note: order.note,
});
export function orderFacts(draft: OrderDraft): Record<string, unknown> {
  if (!draft.piece) throw new Unfit("Which piece of the shelf is it?", "/facts/piece");
  return filled({
    buyer: draft.buyer.trim(),
    piece: draft.piece,
    sizes: Object.entries(draft.sizes).filter(([, value]) => value.trim()).map(([name, value]) => [name, value.trim()]),
    count: whole(draft.count, "/facts/count"),
    due: draft.due ? day(draft.due, "/facts/due") : null,
    each: moneyOr0(draft.each, "/facts/each"),
    note: draft.note.trim(),
  });
}
