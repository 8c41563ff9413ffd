// How long from a key in a size's box to the new picture, in a real browser without graphics hardware.
// Prints a table; it is no test. A busy machine stretches the clock; what the processors spent on an edit, of the
// program and of the page's own thread, it changes less.
//
//   node tests/latency.mjs [BOARDS] [EDITS] [itself|swiftshader]      KERFWRIGHT_PROGRAM names the program
//
// "On the screen" is when the browser says that the frame with the new picture was shown (its own trace). The floor is
// the same for a key that only turns the picture: no program, no change of the page.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { drawnBy, withWorkbench } from "./program.mjs";

const boards = Number(process.argv[2] ?? 60);
const edits = Number(process.argv[3] ?? 60);
const how = process.argv[4] ?? "itself";

/** A rack: pairs of posts, each with rails half-lapped into them; every board moves with the size. */
function rack() {
  const text = ['format = 1\npiece = "Rack"\nunit = "in"\n[size.height]\nis = "60"\nfrom = "40"\nto = "80"\n[stock.wood]\nsection = "2x4"\nspecies = "spruce-pine-fir"'];
  for (let i = 0; i < boards / 3; i++) {
    const x = i * 8;
    text.push(
      `[board.front-${i}]\nstock = "wood"\nruns = [["${x}", "0", "0"], ["${x}", "0", "height"]]\nface = "right"`,
      `[board.back-${i}]\nstock = "wood"\nruns = [["${x}", "30", "0"], ["${x}", "30", "height"]]\nface = "right"`,
      `[board.rail-${i}]\nstock = "wood"\nruns = [["${x}", "-4", "height / 2"], ["${x}", "34", "height / 2"]]\nface = "right"`,
      `[joint.front-${i}]\nkind = "half-lap"\nof = ["front-${i}", "rail-${i}"]`,
      `[joint.back-${i}]\nkind = "half-lap"\nof = ["back-${i}", "rail-${i}"]`,
    );
  }
  return text.join("\n") + "\n";
}

await withWorkbench(
  (folder) => writeFileSync(join(folder, "rack.toml"), rack()),
  async (browser, address, pid) => {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto(`${address}/#/rack/shape`);
    await page.locator("canvas[data-frames]").waitFor();
    await page.getByLabel("height", { exact: true }).waitFor();
    const own = await page.context().newCDPSession(page);
    await own.send("Performance.enable", { timeDomain: "threadTicks" });
    await page.evaluate(measure, { count: 5, key: "Enter" });
    const [typed, followed] = await traced(browser, page, { count: edits, key: "digit" });
    const before = await spent(own, pid);
    const [entered, shown] = await traced(browser, page, { count: edits, key: "Enter" });
    const after = await spent(own, pid);
    const [, floor] = await traced(browser, page, { count: edits, key: "ArrowLeft" });
    print({ typed, followed, entered, shown, floor });
    for (const [words, at] of [["the program", 0], ["the page", 1], ["drawing without a card", 2]]) {
      console.log(`processor time an edit, ${words}`.padEnd(40), `${((after[at] - before[at]) / edits).toFixed(1)} ms`.padStart(8));
    }
  },
  drawnBy[how],
);

/** What `measure` measured, and how long each key took until its frame was shown. */
async function traced(browser, page, wish) {
  const folder = mkdtempSync(join(tmpdir(), "kerfwright-trace-"));
  const path = join(folder, "trace.json");
  await browser.startTracing(page, { path, categories: ["benchmark", "cc", "viz", "blink.user_timing"] });
  const measured = await page.evaluate(measure, wish);
  await browser.stopTracing();
  const events = JSON.parse(readFileSync(path, "utf8")).traceEvents;
  rmSync(folder, { recursive: true });
  const marked = (name) => events.filter((e) => e.name === name && "RIi".includes(e.ph)).map((e) => e.ts).sort((a, b) => a - b);
  const drawn = marked("kerfwright drawn");
  const frames = framesOf(events);
  const shown = marked("kerfwright key").map((at, i) => {
    const of = frames.filter(({ from, to }) => from <= drawn[i] && to >= drawn[i]).sort((a, b) => b.from - a.from)[0];
    return of ? (of.to - at) / 1000 : NaN;
  });
  return [measured, shown.filter((ms) => !Number.isNaN(ms))];
}

/** The frames that were shown, from their first work to the screen. */
function framesOf(events) {
  const begun = new Map();
  const frames = [];
  for (const event of events.filter((e) => e.name === "PipelineReporter").sort((a, b) => a.ts - b.ts)) {
    const id = `${event.pid}:${event.id2?.local ?? event.id}`;
    if (event.ph === "b") begun.set(id, event);
    const start = begun.get(id);
    if (event.ph !== "e" || !start) continue;
    begun.delete(id);
    if (String(start.args.frame_reporter?.state).startsWith("STATE_PRESENTED")) frames.push({ from: start.ts, to: event.ts });
  }
  return frames;
}

/** Milliseconds of processor time: of the program, of the page's thread, of the browser's drawing. */
async function spent(own, pid) {
  const { metrics } = await own.send("Performance.getMetrics");
  return [
    processorTime(pid),
    metrics.find(({ name }) => name === "TaskDuration").value * 1000,
    processorTime(drawingProcess()),
  ];
}

function processorTime(pid) {
  const stat = readFileSync(`/proc/${pid}/stat`, "utf8").split(") ")[1].split(" ");
  const ticksASecond = 100; // of the kernel's own table, see proc(5)
  return ((Number(stat[11]) + Number(stat[12])) / ticksASecond) * 1000;
}

/** The process of our own browser that draws, where a graphics card would. */
function drawingProcess() {
  const parentOf = (pid) => Number(readFileSync(`/proc/${pid}/stat`, "utf8").split(") ")[1].split(" ")[1]);
  const isOurs = (pid) => pid > 1 && (pid === process.pid || isOurs(parentOf(pid)));
  const isDrawing = (pid) => readFileSync(`/proc/${pid}/cmdline`, "utf8").includes("--type=gpu-process");
  return readdirSync("/proc").find((pid) => {
    try {
      return /^\d+$/.test(pid) && isDrawing(pid) && isOurs(Number(pid));
    } catch {
      return false; // ended meanwhile
    }
  });
}

/** In the page: types into a size's box (a digit, or Enter behind it), or presses a key in the picture, and waits for the picture, again and again. */
async function measure({ count, key }) {
  const canvas = document.querySelector("canvas");
  const box = [...document.querySelectorAll("input.entry")][0];
  const frames = () => Number(canvas.dataset.frames);
  const pause = (ms) => new Promise((next) => setTimeout(next, ms));
  const whole = [];
  const asked = [];
  for (let i = 0; i < count; i++) {
    const type = () => {
      box.value = String(50 + (i % 20) + 0.5);
      box.dispatchEvent(new Event("input", { bubbles: true }));
    };
    if (key === "Enter") type();
    await pause(150);
    const before = frames();
    performance.clearResourceTimings();
    performance.mark("kerfwright key");
    const from = performance.now();
    if (key === "digit") type();
    else (key === "Enter" ? box : canvas).dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
    while (frames() === before) await pause(0);
    whole.push(performance.now() - from);
    performance.mark("kerfwright drawn");
    await pause(200);
    const entry = performance.getEntriesByType("resource").find(({ name }) => /\/(edits|try)$/.test(name));
    if (entry) asked.push(entry.duration);
  }
  return { whole, asked };
}

function print({ typed, followed, entered, shown, floor }) {
  const at = (list, part) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * part))];
  console.log(`${boards} boards, ${entered.whole.length} edits of a size, drawn by ${how}; load of the machine ${loadavg()[0].toFixed(1)}`);
  console.log(`${"".padEnd(40)}   median      p95      max`);
  for (const [words, list] of [
    ["a digit to the request's end", typed.asked],
    ["a digit to new picture on the screen", followed],
    ["Enter to the request's end", entered.asked],
    ["Enter to new picture on the screen", shown],
    ["a turn to new picture on the screen", floor],
  ]) {
    console.log(`${words.padEnd(40)} ${[0.5, 0.95, 1].map((p) => `${at(list, p)?.toFixed(1)} ms`.padStart(9)).join("")}`);
  }
}
