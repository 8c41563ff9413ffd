// The open piece as the page knows it: the server's last word, and what is being tried out.
import * as api from "../api/client";
import { listen } from "../api/events";
import type {
  Changes,
  Diagnostic,
  Edit,
  Findings,
  Job,
  Path,
  Plan,
  Problem,
  Steps,
  Tick,
  TrySize,
  View,
} from "../api/types";
import { type SceneBody, type Shape, shapeOf } from "../scene/shapes";
import { newest } from "./newest";
import { spliced } from "./text";

/** `view` with the changed parts in place of the old ones. */
export function merged(view: View, changes: Changes): View {
  const { base: _base, splices, made: _made, meshes: _meshes, ...rest } = changes;
  return { ...view, ...rest, text: spliced(view.text, splices), meshes: [] };
}

const hasErrors = ({ diagnostics }: View): boolean => diagnostics.some(({ severity }) => severity === "error");
const hasEnded = ({ state }: Job): boolean => state === "done" || state === "cancelled" || state === "failed";

export class OpenPiece {
  view = $state.raw<View | null>(null);
  /** What a slider being dragged would make of it; null when nothing is tried. */
  trial = $state.raw<View | null>(null);
  trouble = $state.raw<Problem | null>(null);
  plan = $state.raw<Plan | null>(null);
  /** Of the revision that they name; asked for by the stages that show them. */
  findings = $state.raw<Findings | null>(null);
  steps = $state.raw<Steps | null>(null);
  job = $state.raw<Job | null>(null);
  ticks = $state.raw<Tick[]>([]);
  chosen = $state<string | null>(null);
  /** How many changes were asked for, kept or only tried. */
  changes = $state(0);
  said = $state("");

  shown = $derived(this.trial ?? this.view);
  chosenBody = $derived(this.shown?.bodies.find(({ id }) => id === this.chosen) ?? null);
  errors = $derived(this.count("error"));
  warnings = $derived(this.count("warning"));

  readonly name: string;
  private shapes = new Map<string, Shape>();
  private queue: Promise<unknown> = Promise.resolve();
  private trying = newest<TrySize[]>((set) => this.tryNow(set));
  private deaf: () => void = () => undefined;

  constructor(name: string) {
    this.name = name;
  }

  private count(severity: Diagnostic["severity"]): number {
    return this.shown?.diagnostics.filter((d) => d.severity === severity).length ?? 0;
  }

  async open(): Promise<void> {
    await this.reload();
    this.deaf = listen(this.name, {
      revision: (revision) => void this.inTurn(() => this.catchUp(revision)),
      job: (job) => void this.heard(job),
      outside: () => void this.inTurn(() => this.reload()),
      ticks: (ticks) => (this.ticks = ticks),
      back: () => void this.inTurn(() => this.reload()),
    });
    await this.fetchPlan();
  }

  close(): void {
    this.deaf();
  }

  bodies(): SceneBody[] {
    return (this.shown?.bodies ?? []).flatMap((body) => {
      const shape = this.shapes.get(body.mesh);
      return shape ? [{ body, shape }] : [];
    });
  }

  async reload(): Promise<void> {
    try {
      const view = await api.view(this.name);
      this.keepShapes(view.meshes);
      this.view = { ...view, meshes: [] };
      this.trial = null;
      this.trouble = null;
    } catch (error) {
      this.note(error);
    }
  }

  /** In another unit: all figures again, and a plan that is rounded to it when there was one. */
  async showAnew(): Promise<void> {
    const hadPlan = this.plan !== null;
    this.plan = this.findings = this.steps = null;
    await this.inTurn(() => this.reload());
    await this.fetchPlan();
    if (hadPlan && !this.plan) await this.makePlan(4);
  }

  /** Asks for these of the newest revision, unless they are there. */
  async askFor(what: "findings" | "steps"): Promise<void> {
    if (!this.view || this[what]?.revision === this.view.revision) return;
    try {
      if (what === "findings") this.findings = await api.findings(this.name);
      else this.steps = await api.steps(this.name);
    } catch (error) {
      this.note(error);
    }
  }

  private async catchUp(revision: number): Promise<void> {
    if (this.view && this.view.revision < revision) await this.reload();
  }

  private keepShapes(meshes: View["meshes"]): void {
    for (const mesh of meshes) {
      if (!this.shapes.has(mesh.id)) this.shapes.set(mesh.id, shapeOf(mesh));
    }
  }

  /** One request after another, so that each edit knows the revision that it changes. */
  private inTurn<T>(run: () => Promise<T>): Promise<T> {
    const next = this.queue.then(run, run);
    this.queue = next.catch(() => undefined);
    return next;
  }

  private take(changes: Changes, choose?: string): Changes {
    this.keepShapes(changes.meshes);
    if (this.view) this.view = merged(this.view, changes);
    if (choose !== undefined) this.chosen = choose;
    this.trial = null;
    this.trouble = null;
    if (this.plan) this.plan = { ...this.plan, is_current: this.plan.revision === changes.revision };
    return changes;
  }

  private async change(send: (base: number) => Promise<Changes>, choose?: string): Promise<Changes> {
    this.changes++;
    await this.trying.settle();
    return this.inTurn(async () => {
      try {
        return this.take(await send(this.view?.revision ?? 0), choose);
      } catch (error) {
        this.trial = null;
        if (!(error instanceof api.Trouble) || error.problem.status !== 409) throw error;
        await this.reload();
        return this.take(await send(this.view?.revision ?? 0), choose);
      }
    });
  }

  /** Makes one step of undo of these edits. Throws a Trouble when they cannot be done. */
  edit(what: Edit[], group?: string): Promise<Changes> {
    return this.change((base) => api.edit(this.name, base, what, group));
  }

  /** Gives a table another name; `id`: what the chosen board is then called. */
  rename(path: Path, to: string, id: string): Promise<Changes> {
    return this.change((base) => api.edit(this.name, base, [{ kind: "rename", path, to }]), id);
  }

  /** As `edit`, for text typed: its places hold only for the text that they were counted in. */
  type(what: Edit[], group: string): Promise<Changes> {
    return this.inTurn(async () =>
      this.take(await api.edit(this.name, this.view?.revision ?? 0, what, group)),
    );
  }

  async undo(): Promise<void> {
    const words = this.view?.history.undo;
    await this.attempt(() => this.change((base) => api.undo(this.name, base)), `Undone: ${words ?? ""}`);
  }

  async redo(): Promise<void> {
    const words = this.view?.history.redo;
    await this.attempt(() => this.change((base) => api.redo(this.name, base)), `Done again: ${words ?? ""}`);
  }

  async restore(revision: number): Promise<void> {
    await this.attempt(() => this.change((base) => api.restore(this.name, base, revision)), "Brought back.");
  }

  async settleOutside(take: "theirs" | "mine"): Promise<void> {
    await this.attempt(() => this.change((base) => api.settleOutside(this.name, base, take)), "Settled.");
  }

  private async attempt(run: () => Promise<unknown>, said: string): Promise<void> {
    try {
      await run();
      this.said = said;
    } catch (error) {
      this.note(error);
    }
  }

  /** Shows what these sizes would make of the piece; nothing is kept. */
  tryOut(set: TrySize[]): void {
    this.changes++;
    this.trying.push(set);
  }

  private async tryNow(set: TrySize[]): Promise<void> {
    if (!this.view) return;
    const base = this.view;
    const isTyped = set.some((one) => "value" in one);
    try {
      const changes = await api.tryOut(this.name, base.revision, set);
      this.keepShapes(changes.meshes);
      if (this.view !== base) return;
      const trial = merged(base, changes);
      this.trial = isTyped && hasErrors(trial) ? null : trial;
    } catch (error) {
      if (!isTyped) this.note(error); // half a figure is no trouble yet
    }
  }

  async stopTrying(): Promise<void> {
    await this.trying.settle();
    this.trial = null;
  }

  note(error: unknown): void {
    if (error instanceof api.Trouble) this.trouble = error.problem;
    else throw error;
  }

  async makePlan(seconds: number): Promise<void> {
    try {
      this.follow(await api.makePlan(this.name, seconds));
    } catch (error) {
      this.note(error);
    }
  }

  async cancelPlan(): Promise<void> {
    try {
      this.follow(await api.cancel(this.name));
    } catch (error) {
      this.note(error);
    }
  }

  /** The news of a job's end may overtake the reply that it has begun: an ended job stays ended. */
  private follow(job: Job): void {
    const known = this.job;
    const isOld = known && (job.id < known.id || (job.id === known.id && hasEnded(known)));
    if (!isOld) this.job = job;
  }

  private async heard(job: Job): Promise<void> {
    if (job.piece !== this.name) return;
    this.follow(job);
    if (job.state === "done" || job.state === "cancelled") await this.fetchPlan();
  }

  private async fetchPlan(): Promise<void> {
    try {
      this.plan = await api.plan(this.name);
    } catch (error) {
      if (!(error instanceof api.Trouble) || error.problem.status !== 404) this.note(error);
    }
  }
}
