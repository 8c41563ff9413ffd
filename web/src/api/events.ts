// One stream of news a tab.
import type { Job, Tick } from "./types";

export interface News {
  revision(revision: number): void;
  job(job: Job): void;
  outside(): void;
  ticks(ticks: Tick[]): void;
  /** The stream is there again after a break: what was missed must be asked for. */
  back(): void;
}

export function listen(piece: string, news: News): () => void {
  const stream = new EventSource(`/api/events?piece=${encodeURIComponent(piece)}`);
  let wasOpen = false;
  const on = (name: string, take: (data: never) => void) =>
    stream.addEventListener(name, (event) => take(JSON.parse(String(event.data)) as never));
  on("revision", (data: { revision: number }) => news.revision(data.revision));
  on("job", (data: Job) => news.job(data));
  on("outside", () => news.outside());
  on("ticks", (data: { ticks: Tick[] }) => news.ticks(data.ticks));
  stream.addEventListener("open", () => {
    if (wasOpen) news.back();
    wasOpen = true;
  });
  return () => stream.close();
}
