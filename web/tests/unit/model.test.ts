import { describe, expect, test, vi } from "vitest";
import { difference } from "../../src/model/difference";
import { fileName } from "../../src/model/names";
import { newest } from "../../src/model/newest";
import { spliced } from "../../src/model/text";
import { boxesOf, listOf, nestedOf, setValueOf, tableOf } from "../../src/model/typed";

describe("difference", () => {
  const alphabet = ["a", "b", "é", "😀", "\n"];
  const word = (seed: number, length: number) =>
    Array.from({ length }, (_, i) => alphabet[(seed * (i + 7) * 31 + i * i) % alphabet.length]).join("");

  test("its splice turns the one text into the other", () => {
    for (let seed = 1; seed < 300; seed++) {
      const from = word(seed, seed % 13);
      const to = word(seed * 3 + 1, (seed * 5) % 11);
      const found = difference(from, to);
      expect(found ? spliced(from, [found]) : from).toBe(to);
    }
  });

  test("changes no more than it must", () => {
    expect(difference('is = "30"', 'is = "31"')).toEqual({ from: 7, to: 8, with: "1" });
    expect(difference("same", "same")).toBeNull();
  });
});

test("splices count in the text that the one before left", () => {
  expect(spliced("abc", [{ from: 0, to: 1, with: "xyz" }, { from: 3, to: 4, with: "" }])).toBe("xyzc");
});

describe("newest", () => {
  /** A line whose runs end only when they are let go. */
  function held() {
    const ran: number[] = [];
    let letGo: () => void = () => undefined;
    const line = newest<number>((value) => {
      ran.push(value);
      return new Promise((done) => (letGo = done));
    });
    return { ran, line, letGo: () => letGo() };
  }

  test("has one in flight, and of those that wait runs the last", async () => {
    const { ran, line, letGo } = held();
    for (let i = 1; i <= 5; i++) line.push(i);
    expect(ran).toEqual([1]);
    letGo();
    await vi.waitFor(() => expect(ran).toEqual([1, 5]));
  });

  test("settled, it forgets what waits", async () => {
    const { ran, line, letGo } = held();
    line.push(1);
    line.push(2);
    const settled = line.settle();
    letGo();
    await settled;
    expect(ran).toEqual([1]);
    line.push(3);
    expect(ran).toEqual([1, 3]);
  });
});

describe("what is typed", () => {
  test("a list is its texts", () => {
    expect(listOf('["0", "-reach / 2", 12]')).toEqual(["0", "-reach / 2", "12"]);
    expect(listOf("29 11/16")).toBeNull();
  });
  test("a table is its keys", () => {
    expect(tableOf('{ against = "post-a", face = "+z" }')).toEqual({ against: "post-a", face: "+z" });
  });
  test("a fraction stays as it was typed", () => {
    expect(setValueOf("length", " 29 11/16 ")).toBe("29 11/16");
    expect(setValueOf("switch", "true")).toBe(true);
    expect(setValueOf("end", '{ plane = "floor", add = "1/2" }')).toEqual({ plane: "floor", add: "1/2" });
  });
});

test("a file's name comes from what the piece is called", () => {
  expect(fileName("A step stool, for Ann!")).toBe("a-step-stool-for-ann");
  expect(fileName("Über-Bank №2")).toBe("uber-bank-no2");
  expect(fileName("---")).toBe("");
});

test("a place has a box for each of its figures, with the path of its text", () => {
  const field = (key: string, value: string) => ({ path: ["board", "a", key], words: "", kind: "point" as const, value, is_set: true, choices: [] });
  expect(boxesOf(field("runs", '[["0", "leg.width / 2", \'3 1/2"\'], "head"]'))).toEqual([
    { label: "from, right", path: ["board", "a", "runs", "0", "0"], value: "0" },
    { label: "from, away", path: ["board", "a", "runs", "0", "1"], value: "leg.width / 2" },
    { label: "from, up", path: ["board", "a", "runs", "0", "2"], value: '3 1/2"' },
    { label: "to", path: ["board", "a", "runs", "1"], value: "head" },
  ]);
  expect(boxesOf(field("shift", '["0", "1/4"]'))!.map(({ label }) => label)).toEqual(["across", "through"]);
  expect(boxesOf(field("at", "foot"))).toBeNull();
  for (const wrong of ["[", "]", '["a"', '["a"]]', "a", "", '["a"] "b"', "[]]["]) expect(nestedOf(wrong), wrong).toBeNull();
  expect(listOf('[["a"], "b"]')).toBeNull();
});
