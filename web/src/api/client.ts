// The only place that calls `fetch`. Every failure becomes a Trouble with words and a way out.
import type {
  Bench,
  Binned,
  Card,
  Changes,
  Choices,
  Edit,
  Findings,
  History,
  Job,
  NewPiece,
  Plan,
  Problem,
  Shelf,
  Steps,
  TrySize,
  View,
} from "./types";
import { asked } from "./unit.svelte";

export class Trouble extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(problem.detail || problem.title);
    this.problem = problem;
  }
}

function noAnswer(): Trouble {
  return new Trouble({
    type: "about:blank",
    title: "No answer",
    status: 503,
    code: "page.no-answer",
    detail: "The program behind this page does not answer.",
    hint: "See whether kerfwright serve still runs; start it again and this page goes on where it was.",
  });
}

async function troubleOf(response: Response): Promise<Trouble> {
  try {
    return new Trouble((await response.json()) as Problem);
  } catch {
    return new Trouble({ ...noAnswer().problem, status: response.status, title: response.statusText });
  }
}

async function ask(address: string, body?: unknown, method?: string): Promise<Response> {
  const init: RequestInit = { method: method ?? (body === undefined ? "GET" : "POST") };
  if (body !== undefined) {
    init.body = JSON.stringify(body);
    init.headers = { "content-type": "application/json" };
  }
  let response: Response;
  try {
    response = await fetch(address, init);
  } catch {
    throw noAnswer();
  }
  if (!response.ok) throw await troubleOf(response);
  return response;
}

/** For the callers of this folder. */
export async function json<T>(address: string, body?: unknown, method?: string): Promise<T> {
  const response = await ask(address, body, method);
  return (await response.json()) as T;
}

/** The address of something of a piece. */
function at(piece: string, ...rest: string[]): string {
  return ["/api/pieces", piece, ...rest].map((part, i) => (i ? encodeURIComponent(part) : part)).join("/");
}

/** As `at`, of what has figures in it: they are in the unit that is shown. */
export function of(piece: string, ...rest: string[]): string {
  return shownIn(at(piece, ...rest));
}
export const shownIn = (address: string): string => (asked.unit ? `${address}?unit=${asked.unit}` : address);

export function book(piece: string, paper: "letter" | "a4"): string {
  return `${at(piece, "plan.pdf")}?paper=${paper}${asked.unit ? `&unit=${asked.unit}` : ""}`;
}

export const shelf = () => json<Shelf>("/api/shelf");
export const choices = () => json<Choices>("/api/choices");
export const makePiece = (what: NewPiece) => json<{ name: string }>("/api/shelf", what);
export const takeBack = (id: string) =>
  json<{ name: string }>(`/api/bin/${encodeURIComponent(id)}/take-back`, {});
export const renamePiece = (piece: string, to: string) =>
  json<{ name: string }>(at(piece, "rename"), { to });
export const binPiece = (piece: string) => json<Binned>(at(piece, "bin"), {});

export const view = (piece: string) => json<View>(of(piece));
export const edit = (piece: string, base: number, what: Edit[], group?: string) =>
  json<Changes>(of(piece, "edits"), group === undefined ? { base, what } : { base, what, group });
export const tryOut = (piece: string, base: number, set: TrySize[]) =>
  json<Changes>(of(piece, "try"), { base, set });
export const undo = (piece: string, base: number) => json<Changes>(of(piece, "undo"), { base });
export const redo = (piece: string, base: number) => json<Changes>(of(piece, "redo"), { base });
export const history = (piece: string, before?: number) =>
  json<History>(at(piece, "history") + (before === undefined ? "" : `?before=${before}`));
export const restore = (piece: string, base: number, revision: number) =>
  json<Changes>(of(piece, "restore"), { base, revision });
export const settleOutside = (piece: string, base: number, take: "theirs" | "mine") =>
  json<Changes>(of(piece, "outside"), { base, take });

export const card = (piece: string, board: string) => json<Card>(of(piece, "card", board));
export const makePlan = (piece: string, seconds: number) => json<Job>(of(piece, "plan"), { seconds });
export const findings = (piece: string) => json<Findings>(of(piece, "findings"));
export const steps = (piece: string) => json<Steps>(of(piece, "steps"));
export const plan = (piece: string) => json<Plan>(of(piece, "plan"));
export const cancel = (piece: string) => json<Job>(at(piece, "cancel"), {});

export async function text(address: string): Promise<string> {
  return (await ask(address)).text();
}
export const listing = (piece: string) => text(of(piece, "listing"));

export const bench = () => json<Bench>("/api/bench");
export const openBench = (of: { piece: string } | { batch: number }) => json<Bench>(shownIn("/api/bench"), of);
export const closeBench = () => json<Bench>("/api/bench", undefined, "DELETE");
