import { afterEach, describe, expect, test, vi } from "vitest";
import type { ShopSettings, Trade, TradeToBuy } from "../../src/api/types";
import { awayFrom, dayAfter, daysFrom, isDay, minutesOf, minutesWords } from "../../src/model/days";
import { blankBoard, boardFacts, boardsOf, boughtOf, draftOf, factsAgain, faults, length, orderFacts, blankOrder, rowOf, Unfit } from "../../src/model/entries";
import { faultOf } from "../../src/model/fault.svelte";
import { figureOf, placesOf } from "../../src/model/faults";
import { coinsOf, partOf, saleAt, shown, typedOf } from "../../src/model/money";
import { draftOfSettings, settingsOf } from "../../src/model/reckoning";

const settings: ShopSettings = {
  name: "Ann", address: "", currency: "$", wage: 3000, overhead_percent: 12.5, overhead_hourly: 0, margin_percent: 30, fee_percent: 6.5, fee_fixed: 30, tax_percent: 8,
  fee_on_tax: true, yard: "", price_old_days: 60, offcut_percent: 50, hours: [6, 6, 6, 6, 4, 0, 0], days_off: ["2026-12-25"],
  hardware: [{ name: "screw", holds: 100, price: 1290, whole: false }], glues: [], finishes: [], consumables: [{ name: "paper", holds: 2, price: 80, whole: true, with: "sanding" }],
  parcels: [{ name: "small", kg: 10, longest: "84 in", price: 1250 }], market: [{ piece: "stool", price: 4900, note: "" }], valid_days: 30,
};

describe("money", () => {
  test("is whole coins, however it is typed", () => {
    const typed: [string, number][] = [
      ["12.50", 1250], ["12,5", 1250], ["12", 1200], ["$12.50", 1250], ["12.50 EUR", 1250], ["1,234.50", 123450], ["1.234,50", 123450],
      ["1 234,50", 123450], ["1,234", 123400], ["-3.20", -320], ["−3", -300], [".5", 50], ["0", 0], ["1,234,567.89", 123456789],
    ];
    for (const [text, coins] of typed) expect(coinsOf(text), text).toBe(coins);
  });
  test("is not guessed at", () => {
    for (const text of ["", ".", "twelve", "12.345", "1.234", "12.5.6", "1,23,4", "12 50", "1e3", "12.50.", "--3", "99999999999"]) expect(coinsOf(text), text).toBeNull();
  });
  test("typed as it is shown, it is the same again", () => {
    for (let i = 0; i < 400; i++) {
      const coins = (i * 7919 * (i % 13 ? 1 : 1009) - 90_000) % 1_000_000_000;
      expect(coinsOf(typedOf(coins))).toBe(coins);
      expect(coinsOf(shown(coins, "$"))).toBe(coins);
      expect(coinsOf(shown(coins, "SEK"))).toBe(coins);
    }
  });
  test("is shown in the currency's own place", () => {
    expect(shown(123450, "$")).toBe("$1,234.50");
    expect(shown(-5, "€")).toBe("−€0.05");
    expect(shown(100000000, "SEK")).toBe("1,000,000.00\u00a0SEK");
  });
  test("a share of it goes to the nearest coin, halves away from zero", () => {
    expect([partOf(1250, 10), partOf(1255, 10), partOf(-1255, 10), partOf(1254, 10), partOf(0, 8)]).toEqual([125, 126, -126, 125, 0]);
  });
  test("one sale: price less fee less cost", () => {
    // By hand: tax 8 % of 150.00 is 12.00; fee 6.5 % of 162.00 is 10.53, and 0.30.
    expect(saleAt(11094, 15000, settings)).toEqual({ tax: 1200, fee: 1083, profit: 2823, margin: 18.82 });
    expect(saleAt(100, 0, settings).margin).toBeNull();
  });
});

describe("days", () => {
  test("only those of the calendar", () => {
    for (const day of ["2026-11-30", "2024-02-29", "1970-01-01", "2199-12-31"]) expect(isDay(day), day).toBe(true);
    for (const day of ["2026-02-29", "2026-13-01", "26-11-30", "", "2026-11-31", "1969-12-31", "2200-01-01", "2026-1-1"]) expect(isDay(day), day).toBe(false);
  });
  test("counted over months, years and summer time", () => {
    expect(dayAfter("2026-12-31", 1)).toBe("2027-01-01");
    expect(dayAfter("2024-02-28", 2)).toBe("2024-03-01");
    expect(daysFrom("2026-03-01", "2026-11-01")).toBe(245);
    for (let n = -400; n < 400; n += 7) expect(daysFrom("2026-06-15", dayAfter("2026-06-15", n))).toBe(n);
  });
  test("told from today", () => {
    expect(["2026-11-26", "2026-11-27", "2026-11-25", "2026-12-01", "2026-11-20"].map((day) => awayFrom("2026-11-26", day))).toEqual(["today", "tomorrow", "yesterday", "in 5 days", "6 days ago"]);
  });
  test("time as it is typed, in minutes", () => {
    const typed: [string, number | null][] = [["1:35", 95], ["1 h 35", 95], ["95", 95], ["95 min", 95], ["1.5 h", 90], ["1,5h", 90], ["2h", 120], ["0:05", 5], ["", null], ["long", null], ["1:75", null], ["-5", null]];
    for (const [text, minutes] of typed) expect(minutesOf(text), text).toBe(minutes);
    expect([minutesWords(95), minutesWords(120), minutesWords(40)]).toEqual(["1 h 35 min", "2 h", "40 min"]);
  });
});

describe("entries", () => {
  test("a bare figure counts in the unit shown", () => {
    expect([length("29 11/16", "in"), length(" 810 ", "mm"), length("8 ft", "mm"), length("19 mm", "in"), length(`2' 3"`, "mm")]).toEqual(["29 11/16 in", "810 mm", "8 ft", "19 mm", `2' 3"`]);
  });
  test("faults go from one place to another", () => {
    expect(faults("20 to 22; 40 to 41 1/2", "in", "")).toEqual([["20 in", "22 in"], ["40 in", "41 1/2 in"]]);
    expect(faults("", "in", "")).toEqual([]);
    for (const wrong of ["20", "20 to", "20 to 22 to 24"]) expect(() => faults(wrong, "in", "/x"), wrong).toThrow(Unfit);
  });
  test("what is left empty is left out", () => {
    expect(boardFacts({ ...blankBoard(), length: "96", thickness: "1 1/2", width: "3 1/2" }, "in", "")).toEqual({ length: "96 in", thickness: "1 1/2 in", width: "3 1/2 in" });
    expect(boardFacts({ ...blankBoard(), length: "8 ft", stock: " 2x4 ", value: "6.20", moisture: "12,5", faults: "1 to 2" }, "mm", "")).toEqual({ stock: "2x4", length: "8 ft", faults: [["1 mm", "2 mm"]], moisture: 12.5, value: 620 });
    expect(orderFacts({ ...blankOrder("stool", "49"), count: "3", sizes: { height: "30", width: " " } })).toEqual({ piece: "stool", sizes: [["height", "30"]], count: 3, each: 4900 });
  });
  test("what is not measured anew stays as it is, to the tick", () => {
    const board = { number: 1, code: "001Y", stock: "2x4", species: "", thickness: { text: "", ticks: 0 }, width: { text: '3 1/2"', ticks: 7 }, length: { text: '~13 1/8"', ticks: 5 }, faults: '~1" to 2"', moisture: null, value: 28, note: "", state: "on hand" as const, batch: 0, cut_from: 0, born_in: 0, since: "2026-11-26" };
    expect(factsAgain(board, { ...draftOf(board), width: "3 3/8" }, "in")).toEqual({ stock: "2x4", width: "3 3/8 in", length: 5, faults: [['1"', '2"']], value: 28 });
  });
  test("what is missing is told with its field", () => {
    const at = (run: () => unknown) => {
      try {
        run();
      } catch (error) {
        return (error as Unfit).at;
      }
      return null;
    };
    const like = { ...blankBoard(), stock: "2x4" };
    const rows = [{ ...like, length: "96" }, { ...like, length: "96", value: "dear" }];
    expect(at(() => boardsOf(rows, "in"))).toBe("/boards/1/value");
    expect(at(() => boardsOf([{ ...blankBoard() }], "in"))).toBe("/boards/0/length");
    expect(at(() => boardsOf([{ ...blankBoard(), length: "9" }], "in"))).toBe("/boards/0/stock");
    expect(at(() => boardsOf([{ ...like, length: "9", count: "2.5" }], "in"))).toBe("/boards/0/count");
    expect(at(() => orderFacts(blankOrder()))).toBe("/facts/piece");
    expect(at(() => orderFacts({ ...blankOrder("a"), due: "2026-02-30" }))).toBe("/facts/due");
  });
  test("a row stands for as many boards as it says", () => {
    const rows = [{ ...blankBoard(), stock: "2x4", length: "96", count: "3" }, { ...blankBoard(), stock: "2x4", length: "48", count: "2" }];
    expect(boardsOf(rows, "in").map((one) => one["length"])).toEqual(["96 in", "96 in", "96 in", "48 in", "48 in"]);
    expect([0, 2, 3, 4].map((board) => rowOf(rows, board))).toEqual([0, 0, 1, 1]);
  });
  test("boards bought are those of the list, to the tick", () => {
    const line: TradeToBuy = { yard: "Mill", stock: "2x4", species: "fir", length: { text: "8 ft", ticks: 48768000000 }, width: { text: "", ticks: 0 }, count: 9, each: 620 };
    expect(boughtOf(line, 2, 600)).toEqual(Array(2).fill({ stock: "2x4", species: "fir", length: 48768000000, value: 600 }));
  });
});

test("what the program finds wrong is told at its field", () => {
  const problem = { type: "about:blank", title: "Bad request", status: 400, code: "wire.bad-entry", detail: "entry 1 of the request: /boards/1/length is no length: `long` is not a length", hint: "docs" };
  expect(faultOf(problem)).toEqual({ words: "It is no length: “long” is not a length.", hint: "", at: "/boards/1/length" });
  expect(faultOf({ ...problem, detail: "there is none", pointer: "/wage" })).toEqual({ words: "there is none", hint: "docs", at: "/wage" });
});

test("where a board is faulty, for drawing", () => {
  expect([figureOf("20 1/2"), figureOf("1/4"), figureOf(`3' 4"`), figureOf("810 mm"), figureOf("8.5")]).toEqual([20.5, 0.25, 40, 810, 8.5]);
  expect(placesOf("24 to 48; nonsense", { text: '96"', ticks: 1 })).toEqual([{ from: 0.25, to: 0.5 }]);
  expect(placesOf("90 to 200", { text: '96"', ticks: 1 })).toEqual([]);
});

describe("how the shop reckons", () => {
  test("typed as it was told, it is the same again", () => {
    expect(settingsOf(draftOfSettings(settings), "in")).toEqual(settings);
  });
  test("a package that holds nothing is told with its field", () => {
    const draft = draftOfSettings(settings);
    draft.hardware[0]!.holds = "0";
    expect(() => settingsOf(draft, "in")).toThrow(expect.objectContaining({ at: "/hardware/0/holds" }));
  });
});

describe("the shop", () => {
  afterEach(() => vi.unstubAllGlobals());
  const books = (entries: number, words: string[] = []): Trade =>
    ({ entries, today: "2026-11-26", shop: settings, journal: words.map((one, i) => ({ number: entries - i, day: "2026-11-26", event: "x", words: one, stands: true })) }) as unknown as Trade;

  /** A program that answers one after another, and what it was sent. */
  async function behind(...answers: [number, unknown][]) {
    const sent: { after?: number; entries?: unknown[] }[] = [];
    vi.stubGlobal("fetch", (_: string, init: RequestInit) => {
      sent.push(init.body ? JSON.parse(String(init.body)) : {});
      const [status, body] = answers.shift()!;
      return Promise.resolve(new Response(JSON.stringify(body), { status }));
    });
    const { Shop } = await import("../../src/model/shop.svelte");
    return { shop: new Shop(), sent };
  }
  const old = { type: "about:blank", title: "", status: 409, code: "server.not-newest", detail: "", hint: "" };

  test("takes the newest and tries once more when others have written", async () => {
    const { shop, sent } = await behind([200, books(4)], [409, old], [200, books(7)], [200, books(8, ["Reed paid"])]);
    await shop.enter([{ event: "paid", order: 1, amount: 5 }]);
    expect(sent.map(({ after }) => after)).toEqual([undefined, 4, undefined, 7]);
    expect(sent[3]!.entries).toEqual([{ form: 1, day: "2026-11-26", event: "paid", order: 1, amount: 5 }]);
    expect(shop.said).toBe("Reed paid");
    expect(shop.last).toEqual([8]);
  });
  test("tells when it is refused again, and keeps the newest", async () => {
    const { shop } = await behind([200, books(4)], [409, old], [200, books(7)], [409, old]);
    await expect(shop.enter([{ event: "paid" }])).rejects.toMatchObject({ problem: { status: 409 } });
    expect(shop.trade!.entries).toBe(7);
  });
  test("a batch is not entered into books that it was not planned for", async () => {
    const { shop, sent } = await behind([200, books(4)], [409, old], [200, books(7)]);
    await expect(shop.book()).rejects.toMatchObject({ problem: { status: 409 } });
    expect(sent).toHaveLength(3);
  });
  test("takes back what was made last, the latest first", async () => {
    const { shop, sent } = await behind([200, books(1)], [200, books(3, ["second", "first"])], [200, books(5, ["undone first", "undone second"])]);
    await shop.enter([{ event: "a" }, { event: "b" }]);
    await shop.undo(shop.last);
    expect(sent[2]!.entries).toMatchObject([{ event: "undone", entry: 3 }, { event: "undone", entry: 2 }]);
    expect(shop.last).toEqual([5, 4]);
  });
});
