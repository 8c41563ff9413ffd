// The shop as the page knows it: the books as the program last told them, and what is being worked out.
import { Trouble } from "../api/client";
import * as api from "../api/trade";
import type { Problem, ShopSettings, Trade, TradeAsk, TradeWork } from "../api/types";
import type { Happening } from "./entries";
import { shown } from "./money";

export const isBusy = (work: TradeWork | null): boolean => work?.state === "waiting" || work?.state === "running";
const often = 400; // ms between two questions how far it is

export class Shop {
  trade = $state.raw<Trade | null>(null);
  trouble = $state.raw<Problem | null>(null);
  work = $state.raw<TradeWork | null>(null);
  /** What the cost that was last asked for is of. */
  costOf = $state<{ id: number; piece: string; revision: number } | null>(null);
  said = $state("");
  /** The entries that were made last from here: what undo takes back. */
  last = $state.raw<number[]>([]);

  currency = $derived(this.trade?.shop.currency ?? "");

  private queue: Promise<unknown> = Promise.resolve();
  private watching = false;
  private away: number | null = null;

  money = (coins: number): string => shown(coins, this.currency);

  note(error: unknown): void {
    if (!(error instanceof Trouble)) throw error;
    this.trouble = error.problem;
  }

  private inTurn<T>(run: () => Promise<T>): Promise<T> {
    const next = this.queue.then(run, run);
    this.queue = next.catch(() => undefined);
    return next;
  }

  load(): Promise<void> {
    return this.inTurn(async () => {
      try {
        this.trade = await api.trade();
        this.trouble = null;
      } catch (error) {
        this.note(error);
      }
    });
  }

  /** Changes the books. When others have changed them meanwhile: takes the newest, and tries once more. */
  private change(send: (after: number) => Promise<Trade>, again = true): Promise<void> {
    return this.inTurn(async () => {
      this.trade ??= await api.trade();
      let before = this.trade.entries;
      let next: Trade;
      try {
        next = await send(before);
      } catch (error) {
        if (!(error instanceof Trouble) || error.problem.status !== 409) throw error;
        this.trade = await api.trade();
        if (!again) throw error;
        before = this.trade.entries;
        next = await send(before);
      }
      this.trade = next;
      this.trouble = null;
      this.tell(before);
    });
  }

  private tell(before: number): void {
    const made = this.trade!.journal.filter(({ number }) => number > before);
    if (made.length === 0) return;
    this.last = made.map(({ number }) => number);
    this.said = made.length === 1 ? made[0]!.words : `${made.length} entries: ${made.at(-1)!.words} …`;
  }

  /** Writes into the books what has happened, today unless it says when. Throws a Trouble when it cannot be. */
  enter(happened: Happening[]): Promise<void> {
    return this.change((after) =>
      api.enter(after, happened.map((one) => ({ form: 1, day: this.trade!.today, ...one }))),
    );
  }

  /** Takes entries back, the latest first; of an undoing: brings back. Never throws. */
  async undo(entries: number[]): Promise<void> {
    try {
      await this.enter([...entries].sort((a, b) => b - a).map((entry) => ({ event: "undone", entry })));
    } catch (error) {
      this.note(error);
    }
  }

  importCsv(what: "boards-found" | "boards-bought" | "prices", csv: string, yard: string): Promise<void> {
    return this.change((after) => api.importCsv(after, what, csv, yard));
  }
  book(): Promise<void> {
    return this.change((after) => api.bookBatch(after), false);
  }
  sawn(batch: number): Promise<void> {
    return this.change((after) => api.batchSawn(batch, after));
  }

  async reckonBy(settings: ShopSettings): Promise<void> {
    await this.inTurn(async () => (this.trade = await api.setShop(settings)));
    this.last = [];
    this.said = "The shop reckons by that from now on.";
  }

  // ---- Work

  /** `revision`: of the piece whose cost is asked for. */
  async start(ask: TradeAsk, revision = 0): Promise<void> {
    this.work = await api.startWork(ask);
    this.costOf = ask.kind === "cost" ? { id: this.work.id, piece: ask.piece ?? "", revision } : null;
    void this.watch();
  }

  /** A batch that was begun before this page was opened, unless the books have changed since. */
  async findWork(): Promise<void> {
    try {
      const work = await api.work();
      if (work.id === this.away || (work.batch && work.batch.entries !== this.trade?.entries)) return;
      if (work.kind !== "batch" || work.state === "failed" || work.state === "cancelled") return;
      this.work = work;
      void this.watch();
    } catch (error) {
      if (!(error instanceof Trouble) || error.problem.status !== 404) this.note(error);
    }
  }

  async stop(): Promise<void> {
    try {
      this.work = await api.cancelWork();
    } catch (error) {
      this.note(error);
    }
  }

  putAway(): void {
    this.away = this.work?.id ?? null;
    this.work = null;
  }

  private async watch(): Promise<void> {
    if (this.watching) return;
    this.watching = true;
    while (isBusy(this.work)) {
      await new Promise((done) => setTimeout(done, often));
      try {
        this.work = await api.work();
      } catch (error) {
        this.note(error);
        break;
      }
    }
    this.watching = false;
  }
}

/** One for the whole page: the stages of a piece look into the same books. */
export const shop = new Shop();
