// The shop's books in place of the program's, in the contract's shape: enough of everything to be looked at.
import type { BatchTold, CostTold, Trade, TradeBoard, TradeOrder, TradeWork } from "../../src/api/types";

const inch = 508_000_000;
const size = (text: string, inches: number) => ({ text, ticks: inches * inch });
const none = { text: "", ticks: 0 };

const board = (number: number, code: string, stock: string, long: number, more: Partial<TradeBoard> = {}): TradeBoard => ({
  number, code, stock, species: "spruce-pine-fir", thickness: size('1 1/2"', 1.5), width: size('3 1/2"', 3.5), length: size(`${long}"`, long),
  faults: "", moisture: 12, value: long * 8, note: "", state: "on hand", batch: 0, cut_from: 0, born_in: 0, since: "2026-11-02", ...more,
});

const order = (number: number, buyer: string, more: Partial<TradeOrder> = {}): TradeOrder => ({
  number, buyer, piece: "trestle", sizes: [], count: 2, due: "2026-12-18", each: 18500, note: "", taken: "2026-11-10", batch: 0, state: "open",
  quoted: null, invoiced: null, paid: 0, owed: 0, promise: null, is_late: false, ...more,
});

const toBuy = [
  { yard: "Hill Lumber", stock: "2x4", species: "spruce-pine-fir", length: size("8 ft", 96), width: none, count: 11, each: 620 },
  { yard: "Hill Lumber", stock: "1x6", species: "cedar", length: size("10 ft", 120), width: none, count: 4, each: 1875 },
];

export const standInTrade: Trade = {
  entries: 31,
  today: "2026-11-26",
  shop: {
    name: "Ann's benches", address: "12 Mill Lane\nOakford", currency: "$", wage: 3000, overhead_percent: 15, overhead_hourly: 400, margin_percent: 30,
    fee_percent: 6.5, fee_fixed: 30, tax_percent: 8, fee_on_tax: true, yard: "", price_old_days: 60, offcut_percent: 50, hours: [6, 6, 6, 6, 4, 0, 0],
    days_off: ["2026-12-25"], hardware: [{ name: "deck-screw-8x2-1/2", holds: 100, price: 1290, whole: false }], glues: [{ name: "pva-d3", holds: 0.5, price: 890, whole: true }],
    finishes: [{ name: "linseed oil", holds: 1, price: 1990, whole: false }], consumables: [{ name: "Sandpaper", holds: 2, price: 80, whole: false, with: "sanding" }],
    parcels: [{ name: "Small", kg: 10, longest: '84"', price: 1250 }], market: [{ piece: "trestle", price: 19900, note: "market at Oakford" }], valid_days: 30,
  },
  boards: [
    board(1, "001Y", "2x4", 96), board(2, "002W", "2x4", 96, { faults: "20 to 22; 40 to 41", note: "bow at one end" }),
    board(3, "003T", "2x4", 41.5, { cut_from: 1, born_in: 12, value: 166 }), board(4, "004R", "1x6", 120, { species: "cedar", thickness: size('3/4"', 0.75), width: size('5 1/2"', 5.5), state: "reserved", batch: 22, moisture: null }),
  ],
  orders: [
    order(14, "Bell & Sons", { due: "2026-11-24", is_late: true, sizes: [["height", "32"], ["spread", "24"]], state: "in batch", batch: 22, promise: "2026-12-02", quoted: 39960, invoiced: 39960, paid: 15000, owed: 24960, note: "for the stall by the gate" }),
    order(18, "Mrs Okafor", { count: 1, quoted: 19980 }), order(20, "", { due: null, each: 0, count: 40 }),
    order(9, "Reed", { state: "delivered", invoiced: 20000, paid: 20000 }), order(10, "Lund", { state: "delivered", invoiced: 20000, owed: 20000 }), order(11, "Hale", { state: "cancelled" }),
  ],
  batches: [
    { number: 22, name: "November trestles", is_over: false, lots: [{ order: 14, count: 2 }], parts: [{ part: "1A", wanted: 8, done: 3 }, { part: "1B", wanted: 2, done: 2 }, { part: "1C", wanted: 4, done: 0 }], to_buy: toBuy, minutes: 95, is_sawn: false, spent: 4120, promise: "2026-12-02" },
    { number: 12, name: "October", is_over: true, lots: [], parts: [{ part: "1A", wanted: 4, done: 4 }], to_buy: [], minutes: 410, is_sawn: true, spent: 0, promise: null },
  ],
  prices: ["2026-11-20", "2026-10-02", "2026-07-15"].flatMap((day, i) => [
    { day, yard: "Hill Lumber", stock: "2x4", species: "spruce-pine-fir", length: size("8 ft", 96), width: none, per: "piece" as const, price: 620 - 30 * i, tax_percent: 8 },
    ...(i ? [] : [{ day: "2026-08-01", yard: "Mill", stock: "1x6", species: "cedar", length: none, width: none, per: "board-foot" as const, price: 395, tax_percent: 0 }]),
  ]),
  accounts: [
    { kind: "cash", of: 0, amount: 45210 }, { kind: "boards", of: 0, amount: 2834 }, { kind: "supplies", of: 0, amount: 2180 }, { kind: "work in progress", of: 22, amount: 4120 }, { kind: "owed by buyers", of: 14, amount: 24960 },
    { kind: "sales", of: 0, amount: -55500 }, { kind: "tax", of: 0, amount: -3804 }, { kind: "owner", of: 0, amount: -20000 },
  ],
  journal: [
    { number: 31, day: "2026-11-26", event: "parts-done", words: "3 of part 1A done for November trestles", stands: true }, { number: 30, day: "2026-11-25", event: "undone", words: "Undone: entry 29", stands: true },
    { number: 29, day: "2026-11-25", event: "paid", words: "Bell & Sons paid $1,500.00", stands: false }, { number: 28, day: "2026-11-24", event: "boards-bought", words: "2 boards bought at Hill Lumber for $15.36", stands: true },
  ],
  activities: ["job", "board", "set-up", "cut", "hole", "screw", "glue-up", "assembly", "sanding", "coat"].map((name, i) => ({ name, minutes: 20 / (i + 1), error: 6 / (i + 1) })),
  buy_this_week: toBuy,
};

export const standInCost: CostTold = {
  parcel: null,
  lines: [
    { kind: "boards", what: "2x4, spruce-pine-fir, 8 ft", quantity: 3, unit: "boards", each: 620, total: 1860, basis: "Hill Lumber, 2026-11-20" },
    { kind: "offcuts", what: "offcuts kept", quantity: 2, unit: "boards", each: 0, total: -212, basis: "half of their share of the board" },
    { kind: "hardware", what: "deck screw 8 x 2-1/2", quantity: 16, unit: "", each: 13, total: 206, basis: "by what is used of 100 for $12.90" },
    { kind: "finish", what: "linseed oil", quantity: 0.18, unit: "l", each: 0, total: 0, basis: "no price is known" },
    { kind: "labour", what: "work", quantity: 2.4, unit: "h", each: 3000, total: 7200, basis: "144 minutes, as learned from 12 entries" },
    { kind: "overhead", what: "overhead", quantity: 2.4, unit: "h", each: 0, total: 2040, basis: "15 % of wages and $4.00 an hour" },
  ],
  total: 11094, pieces: 1, each: 11094, price: 17559, tax: 1405, fee: 1263, profit: 5202, margin_percent: 30,
  sensitivity: { lumber_cost: 165, lumber_price: 262, hours_cost: 924, hours_price: 1465 },
  market: { cheaper: 1, same: 0, dearer: 3, least: 16900, middle: 19900, most: 24000 },
  minutes: 144, least_minutes: 118, most_minutes: 171,
  curve: [[1, 11094], [2, 10210], [5, 9140], [10, 8820], [20, 8695]].map(([count, each], i) => ({ count: count!, each: each!, total: count! * each!, is_proved: i < 3 })),
  words: ["No price is known of linseed oil."],
};

const batch: BatchTold = {
  name: "Gate and garden", proof: ["2x4: cheapest possible, proved", "1x6: within $1.20 of the cheapest"], cost: { ...standInCost, pieces: 3 },
  orders: [
    { order: 18, buyer: "Mrs Okafor", piece: "trestle", count: 1, cost_each: 10210, price_each: 16230, agreed_each: 18500, ends: "2026-12-03", promise: "2026-12-04", due: "2026-12-18", is_late: false },
    { order: 20, buyer: "", piece: "trestle", count: 40, cost_each: 8695, price_each: null, agreed_each: 0, ends: "2027-01-20", promise: "2027-02-02", due: "2027-01-25", is_late: true },
  ],
  to_buy: toBuy, boards: ["001Y", "002W"], days: [{ day: "2026-11-27", set_ups: 4, minutes: 230 }, { day: "2026-11-30", set_ups: 2, minutes: 95 }], entries: 31,
};

export const standInWork = (kind: "batch" | "cost"): TradeWork => ({
  id: 3, kind, state: "done", stage: "", fraction: 1, words: "", batch: kind === "batch" ? batch : null, cost: kind === "cost" ? standInCost : null,
});
