// The shop's books, and what is reckoned with them.
import { json } from "./client";
import type { ShopSettings, Trade, TradeAsk, TradeWork } from "./types";
import { asked, type Unit } from "./unit.svelte";

/** The books are of no file, so a unit is always asked for. */
export const shopUnit = (): Unit => asked.unit ?? "in";

const at = (...rest: (string | number)[]): string => {
  const path = ["/api/trade", ...rest.map((part) => encodeURIComponent(part))].join("/");
  return `${path}?unit=${shopUnit()}`;
};

/** An entry as docs/trade.md has it. */
export type Entry = { form: 1; day: string; event: string } & Record<string, unknown>;

export const trade = () => json<Trade>(at());
export const enter = (after: number, entries: Entry[]) => json<Trade>(at("entries"), { after, entries });
export const setShop = (settings: ShopSettings) => json<Trade>(at("shop"), settings);
export const importCsv = (after: number, what: "boards-found" | "boards-bought" | "prices", csv: string, yard: string) =>
  json<Trade>(at("import"), yard ? { after, what, csv, yard } : { after, what, csv });

export const startWork = (ask: TradeAsk) => json<TradeWork>(at("work"), ask);
export const work = () => json<TradeWork>(at("work"));
export const cancelWork = () => json<TradeWork>(at("work", "cancel"), {});
export const bookBatch = (after: number) => json<Trade>(at("work", "book"), { after });
export const batchSawn = (batch: number, after: number) => json<Trade>(at("batches", batch, "sawn"), { after });

export const file = (name: string, more: Record<string, string> = {}): string =>
  [at("files", name), ...Object.entries(more).map(([key, value]) => `${key}=${encodeURIComponent(value)}`)].join("&");
