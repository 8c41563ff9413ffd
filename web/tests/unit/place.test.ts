import { expect, test, vi } from "vitest";

test("a room of the shop and a piece that is called shop", async () => {
  vi.stubGlobal("location", { hash: "" });
  vi.stubGlobal("addEventListener", () => undefined);
  const { parse, rooms, stages } = await import("../../src/model/place.svelte");
  expect(parse("#/shop")).toEqual({ piece: null, stage: "shape", room: "rack" });
  expect(parse("#/shop/money")).toEqual({ piece: null, stage: "shape", room: "money" });
  expect(parse("#/shop/sell")).toEqual({ piece: "shop", stage: "sell", room: null });
  expect(parse("#/bench/saw")).toEqual({ piece: "bench", stage: "saw", room: null });
  expect(parse("")).toEqual({ piece: null, stage: "shape", room: null });
  expect(rooms.filter((room) => (stages as readonly string[]).includes(room))).toEqual([]);
});
