// Money: shown and typed with two decimals, sent as whole coins. The sums here only fill in a form or add up what
// is shown; the books are kept by the program.
import type { ShopSettings } from "../api/types";

/** "1,234.50", "1 234,5", "$12", "-3.20" in coins; null when it is no sum of money. */
export function coinsOf(typed: string): number | null {
  const bare = typed.trim().replace(/^[−-]\s*/, "").replace(/^[^\d.,\s−-]+\s*|\s*[^\d.,\s−-]+$/g, "");
  const sign = /^[−-]/.test(typed.trim()) ? -1 : 1;
  const found = /^(\d{1,3}(?:([ ,.'\u00a0\u202f])\d{3})+|\d+)?(?:([.,])(\d{0,2}))?$/.exec(bare);
  if (!found || (!found[1] && !found[4])) return null;
  if (found[2] !== undefined && found[2] === found[3]) return null;
  if (found[2] === "." && found[3] === undefined) return null; // 1.234: thousands or three decimals
  const whole = (found[1] ?? "0").replace(/\D/g, "");
  if (whole.length > 10) return null;
  const coins = sign * (Number(whole) * 100 + Number((found[4] ?? "").padEnd(2, "0")));
  return coins === 0 ? 0 : coins;
}

/** Coins as they are typed: 1250 -> "12.50". */
export function typedOf(coins: number): string {
  const size = Math.abs(coins);
  return `${coins < 0 ? "-" : ""}${Math.floor(size / 100)}.${String(size % 100).padStart(2, "0")}`;
}

/** Coins as they are shown: 123450 -> "$1,234.50", "1,234.50 SEK". */
export function shown(coins: number, currency: string): string {
  const [whole, rest] = typedOf(Math.abs(coins)).split(".");
  const figure = `${whole!.replace(/\B(?=(\d{3})+$)/g, ",")}.${rest!}`;
  const sign = coins < 0 ? "−" : "";
  if (!currency) return sign + figure;
  return /\p{L}/u.test(currency) ? `${sign}${figure}\u00a0${currency}` : `${sign}${currency}${figure}`;
}

/** To the nearest coin, halves away from zero, as a till does it. */
const rounded = (coins: number): number => Math.sign(coins) * Math.round(Math.abs(coins));

export const partOf = (coins: number, percent: number): number => rounded((coins * percent) / 100) || 0;

export interface Sale {
  tax: number;
  fee: number;
  profit: number;
  /** Of the price, in percent; null of a price of nothing. */
  margin: number | null;
}

/** One sale at a price without tax: docs/trade.md, Price. */
export function saleAt(cost: number, price: number, shop: ShopSettings): Sale {
  const tax = partOf(price, shop.tax_percent);
  const fee = partOf(shop.fee_on_tax ? price + tax : price, shop.fee_percent) + shop.fee_fixed;
  const profit = price - fee - cost;
  return { tax, fee, profit, margin: price > 0 ? (100 * profit) / price : null };
}

export const sum = (amounts: number[]): number => amounts.reduce((all, one) => all + one, 0);
