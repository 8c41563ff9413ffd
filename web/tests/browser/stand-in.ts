// Answers in place of the program, for tests of the page alone: a small trestle, in the contract's shape.
import type { Page, Route } from "@playwright/test";
import type { Body, Card, Choices, Findings, Joint, Mesh, Part, Plan, Shelf, Steps, View } from "../../src/api/types";
import { standInTrade, standInWork } from "./stand-in-trade";

const fig = (text: string, value = 0) => ({ text, value });
const inch = 25.4;

function base64(array: Float32Array | Uint32Array): string {
  return Buffer.from(array.buffer).toString("base64");
}

function boxMesh(id: string, long: number, wide: number, thick: number): Mesh {
  const points = new Float32Array(24);
  for (let i = 0; i < 8; i++) {
    points[i * 3] = i & 1 ? long : 0;
    points[i * 3 + 1] = (i & 2 ? 0.5 : -0.5) * wide;
    points[i * 3 + 2] = (i & 4 ? 0.5 : -0.5) * thick;
  }
  const sides: [number[], number[], string, string][] = [
    [[0, 4, 6, 2], [-1, 0, 0], "-x", "start"],
    [[1, 3, 7, 5], [1, 0, 0], "+x", "end"],
    [[0, 1, 5, 4], [0, -1, 0], "-y", "edge"],
    [[2, 6, 7, 3], [0, 1, 0], "+y", "edge"],
    [[0, 2, 3, 1], [0, 0, -1], "-z", "broad face"],
    [[4, 5, 7, 6], [0, 0, 1], "+z", "broad face"],
  ];
  const triangles = sides.flatMap(([[a, b, c, d]]) => [a!, b!, c!, a!, c!, d!]);
  const edges = [0, 1, 2, 3, 4, 5, 6, 7, 0, 2, 1, 3, 4, 6, 5, 7, 0, 4, 1, 5, 2, 6, 3, 7];
  return {
    id,
    points: base64(points),
    triangles: base64(new Uint32Array(triangles)),
    edges: base64(new Uint32Array(edges)),
    faces: sides.map(([, normal, side, words], i) => ({
      from: i * 2,
      count: 2,
      normal,
      offset: 0,
      side,
      feature: "stick",
      words,
      curved: false,
    })),
  };
}

interface Plank {
  id: string;
  from: number[];
  along: number[];
  face: number[];
  long: number;
  part: string;
}

function body({ id, from, along, face, long, part }: Plank, width: number): Body {
  const n = Math.hypot(...along);
  const x = along.map((v) => v / n);
  const y = [face[1]! * x[2]! - face[2]! * x[1]!, face[2]! * x[0]! - face[0]! * x[2]!, face[0]! * x[1]! - face[1]! * x[0]!];
  const origin = from.map((v) => v * inch);
  const to = origin.map((v, i) => v + x[i]! * long * inch);
  const reach = width * inch;
  return {
    id,
    path: ["board", id],
    is_copy: false,
    is_panel: false,
    part,
    stock: "leg",
    mesh: part.charCodeAt(0).toString(16).padStart(16, "0"),
    frame: { origin, x, y, z: face },
    low: origin.map((v, i) => Math.min(v, to[i]!) - reach / 2),
    high: origin.map((v, i) => Math.max(v, to[i]!) + reach / 2),
    line: [origin, to],
    mass_kg: 1.4,
    length: fig(`${long}"`, long),
    width: fig('3 1/2"', 3.5),
    thickness: fig('1 1/2"', 1.5),
    group: "",
  };
}

const planks: Plank[] = [-14, 14].flatMap((x) => [
  { id: x < 0 ? "leg-a" : "leg-c", from: [x, -11, 0], along: [0, 22, 29], face: [1, 0, 0], long: 36.4, part: "A" },
  { id: x < 0 ? "leg-b" : "leg-d", from: [x * 1.1, 11, 0], along: [0, -22, 29], face: [1, 0, 0], long: 36.4, part: "A" },
]);
planks.push(
  { id: "rail", from: [-22, 0, 14.5], along: [1, 0, 0], face: [0, 1, 0], long: 44, part: "B" },
  { id: "slat-front", from: [-24, -9, 29.2], along: [1, 0, 0], face: [0, 0, 1], long: 48, part: "C" },
  { id: "slat-back", from: [-24, 9, 29.2], along: [1, 0, 0], face: [0, 0, 1], long: 48, part: "C" },
);

export const standInText = 'format = 1\npiece = "Market trestle"\nunit = "in"\n\n[size.height]\nis = "30"  # to the top\nfrom = "24"\nto = "36"\n';

const joints: Joint[] = [
  { id: "crossing", path: ["joint", "crossing"], kind: "half-lap", boards: ["leg-a", "leg-b"], words: "half-lap of leg-a and leg-b" },
  { id: "rail", path: ["joint", "rail"], kind: "screw", boards: ["rail", "leg-a"], words: "rail on leg-a, 2 deck screw 8 x 2-1/2" },
];

const parts: Part[] = [
  ["A", "leg", 4, '36 7/16"', "35°", "hook: long point"],
  ["B", "rail", 1, '44"', "square", "square"],
  ["C", "slat", 2, '48"', "square", "square"],
].map(([letter, name, count, length, hook, far]) => ({
  letter: String(letter),
  name: String(name),
  count: Number(count),
  left: letter === "A" ? 2 : 0,
  right: letter === "A" ? 2 : 0,
  stock: "leg",
  strips: 1,
  thickness: fig('1 1/2"'),
  width: fig('3 1/2"'),
  length: fig(String(length)),
  ends: [String(hook), String(far)],
  boards: [],
  marks: letter === "A" ? ['notch from 16 1/8" to 20 3/16", 3/4" deep, saw swung 17°'] : [],
  needs_template: false,
}));

export function standInView(): View {
  return {
    piece: "trestle",
    revision: 4,
    history: { can_undo: true, can_redo: false, undo: "height to 30", redo: null },
    saved: { state: "saved", words: "" },
    title: "Market trestle",
    unit: "in",
    file_unit: "in",
    rule: fig('1/16"', 1 / 16),
    text: standInText,
    picture: "now",
    diagnostics: [
      {
        severity: "warning",
        code: "solid.no-contact",
        message: "rail and leg-c are joined but do not meet",
        hint: "move rail up by 1/4 in",
        at: { from: 60, to: 64, line: 5, column: 2 },
        notes: [],
      },
    ],
    sizes: [
      ["height", "floor to the top of the rail", '30"', 24, 36, 30],
      ["spread", "foot to foot", '22"', 18, 30, 22],
    ].map(([name, words, typed, from, to, at]) => ({
      name: String(name),
      words: String(words),
      path: ["size", String(name), "is"],
      kind: "length" as const,
      typed: String(typed).replace('"', ""),
      figure: fig(String(typed), Number(at)),
      trouble: null,
      slider: { from: Number(from), to: Number(to), step: 0.5, at: Number(at), from_text: `${String(from)}"`, to_text: `${String(to)}"` },
    })),
    derived: [],
    stocks: [{ name: "leg", path: ["stock", "leg"], sold_as: "2x4", species: "spruce-pine-fir", thickness: fig('1 1/2"'), width: fig('3 1/2"'), is_sheet: false }],
    bodies: planks.map((plank) => body(plank, 3.5)),
    meshes: [...new Map(planks.map(({ part, long }) => [part, long]))].map(([part, long]) =>
      boxMesh(part.charCodeAt(0).toString(16).padStart(16, "0"), long * inch, 3.5 * inch, 1.5 * inch),
    ),
    joints,
    clashes: [{ boards: ["rail", "leg-b"], low: [0, 0, 0], high: [1, 1, 1], words: "rail and leg-b are in one another's way by 1/8 in" }],
    points: [{ name: "foot", path: ["point", "foot"], at: [0, 0, 0] }],
    planes: [{ name: "floor", path: null, at: [0, 0, 0], normal: [0, 0, -1] }],
    parts,
    totals: {
      boards: 7,
      parts: 3,
      joints: 2,
      mass: fig("22 lb", 10),
      centre: [0, 0, 18 * inch],
      low: [-24 * inch, -11 * inch, 0],
      high: [24 * inch, 11 * inch, 30 * inch],
      size: [fig('48"', 48), fig('22"', 22), fig('30"', 30)],
      without_species: 0,
    },
    files: [{ name: "trestle.toml", words: "the piece file", needs_plan: false }],
  };
}

const plan: Plan = {
  revision: 4,
  is_current: true,
  cost: "$31.60",
  proof: "cheapest possible, proved",
  buying: [
    { stock: "leg", sold_as: "2x4", species: "spruce-pine-fir", length: fig("8 ft", 96), count: 3, on_hand: false, each: "$6.20", total: "$18.60" },
    { stock: "leg", sold_as: "2x4", species: "spruce-pine-fir", length: fig("12 ft", 144), count: 1, on_hand: true, each: null, total: null },
  ],
  hardware: [{ name: "deck screw 8 x 2-1/2", count: 16 }],
  stocks: [
    { stock: "leg", sheet: "leg", proof: "cheapest possible, proved", proved: true, strips_per_board: 1, sticks: [{ length: fig("8 ft"), faults: [{ from: fig('60"'), to: fig('62 1/2"') }], on_hand: false, offcut: fig('11 3/4"'), parts: [{ part: "A", from: fig('1/4"'), length: fig('36 7/16"'), flipped: false, turned: false }] }] },
  ],
  sheets: [],
  setups: [
    { machine: "mitre saw", setting: "swing 35°, tilt 0°", cuts: [{ id: "c1", part: "A", what: "hook end", stop: null, count: 4 }, { id: "c2", part: "A", what: "far end", stop: '36 7/16"', count: 4 }] },
    { machine: "mitre saw", setting: "square", cuts: [{ id: "c3", part: "B", what: "to length", stop: '44"', count: 1 }] },
  ],
  closing: { closes: true, words: "The printed figures close: the worst gap is 1/64 in.", joints: [] },
  used: 0.87,
  diagnostics: [],
  files: [{ name: "cut-list.csv", words: "the cut list as a table", needs_plan: true }],
};

const card: Card = {
  board: "leg-a",
  path: ["board", "leg-a"],
  part: "A",
  words: "leg-a, from foot to head",
  fields: [
    { path: ["board", "leg-a", "stock"], words: "stock", kind: "choice", value: "leg", is_set: true, choices: [{ value: "leg", words: "leg: 2x4" }] },
    { path: ["board", "leg-a", "length"], words: "length", kind: "length", value: "36 7/16", is_set: true, choices: [] },
    { path: ["board", "leg-a", "start"], words: "start", kind: "end", value: "floor", is_set: true, choices: [] },
  ],
  joints,
  joint_fields: [{ path: ["joint", "crossing"], fields: [{ path: ["joint", "crossing", "depth"], words: "depth", kind: "length", value: "", is_set: false, choices: [] }, { path: ["joint", "crossing", "over"], words: "which keeps its show face", kind: "choice", value: "", is_set: false, choices: [{ value: "a", words: "the first" }, { value: "b", words: "the second" }] }] }],
  marks: parts[0]!.marks,
  saw: ["hook end: swing 35°", "far end: square"],
  sheet: "/api/pieces/trestle/part/A.svg",
};

const drawing =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 90"><path d="M20 30H360L380 60H20z" fill="none" stroke="#000"/><path d="M150 30v30M190 30v30" stroke="#000" stroke-dasharray="4 3"/><text x="150" y="82" font-size="13">16 1/8 to 20 3/16</text></svg>';

const shelf: Shelf = {
  folder: "/home/maker/pieces",
  pieces: [
    { name: "trestle", title: "Market trestle", changed: "2026-11-20T10:00:00Z", errors: 0 },
    { name: "stool", title: "Step stool for Ann", changed: "2026-11-18T16:20:00Z", errors: 2 },
  ],
  starters: [
    { name: "garden-bench", title: "Garden bench", words: "A two-seat bench. The back legs lean, and the slats of the back follow them." },
    { name: "trestle", title: "Trestle", words: "Two crossed frames that fold flat." },
    { name: "tote", title: "Tote", words: "A box to carry tools in." },
  ],
  binned: [],
};

const choices: Choices = {
  sections: [{ value: "2x4", words: "2x4" }],
  species: [],
  fasteners: [],
  glues: [],
  joints: [{ kind: "half-lap", words: "two boards that cross, half out of each", boards: 2, fields: [{ key: "depth", words: "depth", kind: "length", needed: false, choices: [] }] }],
};

export const standInFindings: Findings = {
  revision: 4,
  caution: "Computed under the assumptions told with each; not a promise that the piece is fit to use.",
  findings: [
    { area: "fit", verdict: "fails", check: "screw-comes-out", message: "The screws of rail come out of leg-a", number: '1/4" past the face', limit: '1/8" of cover', source: "geometry; cover by common practice, no published source", assumption: "screws driven square to the face", change: 'Take 2" screws', boards: ["rail", "leg-a"], joint: "rail", ratio: 1.2, shares: [] },
    { area: "stand", verdict: "look", check: "tips", message: "It tips over at 12 degrees to the front", number: "12 degrees", limit: "10 degrees", source: "statics; the limit by common practice, no published source", assumption: "empty, on level ground", change: "", boards: [], joint: null, ratio: 0, shares: [] },
    { area: "frame", verdict: "not computed", check: "no-load-named", message: "No load is named", number: "", limit: "", source: "", assumption: "", change: "Say in [load] what it carries", boards: [], joint: null, ratio: 0, shares: [] },
    { area: "move", verdict: "passes", check: "slats-swell", message: "The slats have room to swell", number: '1/32"', limit: '1/8"', source: "Wood Handbook, Eq. 13-2", assumption: "12 % to 18 % moisture", change: "", boards: ["slat-front"], joint: null, ratio: 0, shares: [] },
    { area: "frame", verdict: "passes", check: "board-use", message: "Each of 3 boards with its share", number: "0.62 at most", limit: "1.00", source: "NDS 3.3, 3.7, 3.9", assumption: "boards are beams along their grain", change: "", boards: ["leg-a", "leg-b", "rail"], joint: null, ratio: 0.62, shares: [0.11, 0.3, 0.62] },
  ],
};

const order = [["leg-a"], ["leg-b"], ["leg-c"], ["leg-d"], ["rail"], ["slat-front", "slat-back"]];
const steps: Steps = {
  revision: 4,
  steps: order.map((added, i) => ({
    name: added[0]!,
    title: `${i ? "Add" : "Lay down"} ${added.join(", ")}`,
    lines: ["Mark where it crosses.", "Screw it with 2 deck screws 8 x 2-1/2."],
    there: order.slice(0, i).flat(),
    added: added.map((board) => ({ board, by: [0, 0, i ? 8 * inch : 0] })),
    onto: order.slice(0, i).flat().slice(0, 2),
    made_apart: null,
  })),
  apart: planks.map(({ id }, i) => ({ board: id, by: [0, (i % 2 ? 10 : -10) * inch, 0] })),
};

function answer(path: string, asked: { kind?: "cost" } | null): unknown {
  if (path === "/api/trade/work") return standInWork(asked?.kind ?? "batch");
  if (path.startsWith("/api/trade")) return standInTrade;
  if (path.endsWith("/findings")) return standInFindings;
  if (path.endsWith("/steps")) return steps;
  if (path === "/api/shelf") return shelf;
  if (path === "/api/choices") return choices;
  if (path === "/api/bench") return { is_open: false, piece: null, address: null, code: null, expires: null, qr: null, paired: 0 };
  if (path.endsWith("/plan")) return plan;
  if (path.includes("/card/")) return card;
  if (path.endsWith("/history")) return { revisions: [{ revision: 4, at: "2026-11-20T10:00:00Z", words: "height to 30", is_current: true }] };
  return standInView();
}

/** Puts the stand-in in the program's place. */
export async function standIn(page: Page): Promise<void> {
  await page.route("**/api/**", async (route: Route) => {
    const path = new URL(route.request().url()).pathname;
    if (path === "/api/events") return route.fulfill({ contentType: "text/event-stream", body: ": \n\n" });
    if (path.endsWith(".svg")) return route.fulfill({ contentType: "image/svg+xml", body: drawing });
    if (path.endsWith("/listing")) return route.fulfill({ contentType: "text/plain", body: "Market trestle\n\nA pair of crossed legs and a rail, of 2x4s." });
    if (path.endsWith(".pdf")) return route.fulfill({ contentType: "text/html", body: "<p>The book</p>" });
    return route.fulfill({ json: answer(path, route.request().postDataJSON() as { kind?: "cost" } | null) });
  });
}
