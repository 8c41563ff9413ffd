import { expect, test } from "vitest";
import type { Body } from "../../src/api/types";
import { isMirrored, movedBy, pointOf, shapeOf, toWorld } from "../../src/scene/shapes";
import { candidates, placesOf, stepped } from "../../src/scene/places";
import { bandOf, shareBands, sharesOf, wordsOf } from "../../src/scene/shares";
import { standInFindings, standInView } from "../browser/stand-in";

const frame = (x: number[], y: number[], z: number[]) => ({ frame: { origin: [10, 20, 30], x, y, z } }) as Body;

test("a place in a board's frame comes to where the board is", () => {
  expect(toWorld(frame([0, 1, 0], [-1, 0, 0], [0, 0, 1]), [5, 2, 1])).toEqual([8, 25, 31]);
});

test("a left-handed frame is a mirror image", () => {
  expect(isMirrored(frame([1, 0, 0], [0, 1, 0], [0, 0, 1]))).toBe(false);
  expect(isMirrored(frame([1, 0, 0], [0, 1, 0], [0, 0, -1]))).toBe(true);
});

test("a mesh is what its base64 says", () => {
  const view = standInView();
  const body = view.bodies[4]!;
  const shape = shapeOf(view.meshes.find(({ id }) => id === body.mesh)!);
  expect(shape.points.length).toBe(24);
  expect(shape.triangles.length).toBe(36);
  const [low, high] = [pointOf({ body, shape }, 0), pointOf({ body, shape }, 7)];
  expect(high[0] - low[0]).toBeCloseTo(44 * 25.4, 2);
});

test("a box can be pointed at in eight corners, twelve edges and two ends of its line", () => {
  const view = standInView();
  const body = view.bodies[0]!;
  const shape = shapeOf(view.meshes.find(({ id }) => id === body.mesh)!);
  expect(placesOf({ body, shape })).toHaveLength(22);
});

test("boards are moved by a share of the way", () => {
  const moved = movedBy([{ board: "rail", by: [0, 100, -20] }], 0.5);
  expect([...moved]).toEqual([["rail", [0, 50, -10]]]);
});

test("keys step through boards and places, round and round", () => {
  const view = standInView();
  const bodies = view.bodies.map((body) => ({ body, shape: shapeOf(view.meshes.find(({ id }) => id === body.mesh)!) }));
  const boards = candidates(bodies, "board");
  expect(boards.map(({ board }) => board)).toEqual(view.bodies.map(({ id }) => id));
  expect(stepped(boards, null, 1)).toBe(boards[0]);
  expect(stepped(boards, null, -1)).toBe(boards.at(-1));
  expect(stepped(boards, boards.at(-1)!, 1)).toBe(boards[0]);
  expect(stepped(boards, boards[1]!, -1)).toBe(boards[0]);
  expect(stepped([], null, 1)).toBeNull();
  const places = candidates(bodies, "place");
  const far = stepped(places, places[3]!, 1, ({ board }) => board !== places[3]!.board)!;
  expect(far.board).toBe(bodies[1]!.body.id);
  expect(stepped(places, far, -1)!.board).toBe(bodies[0]!.body.id);
});

test("boards are painted by their share, past the limit by the last band alone", () => {
  expect([0, 0.25, 0.2501, 0.5, 0.75, 1, 1.0001, 40].map(bandOf)).toEqual([0, 0, 1, 1, 2, 3, 4, 4]);
  expect(shareBands.map(wordsOf)).toEqual(["to 0.25", "to 0.5", "to 0.75", "to 1", "over 1"]);
  expect([...sharesOf(standInFindings.findings)]).toEqual([["leg-a", 0.11], ["leg-b", 0.3], ["rail", 0.62]]);
  expect(sharesOf([]).size).toBe(0);
});
