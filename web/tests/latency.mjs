// How long from a key in a size's box to the new picture, in a real browser without graphics hardware.
// Prints a table; it is no test. A busy machine stretches the clock; what the processors spent on an edit, of the
// program and of the page's own thread, it changes less.
//
//   node tests/latency.mjs [BOARDS] [EDITS]      KERFWRIGHT_PROGRAM names the program
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { loadavg } from "node:os";
import { join } from "node:path";
import { withWorkbench } from "./program.mjs";

const boards = Number(process.argv[2] ?? 60);
const edits = Number(process.argv[3] ?? 60);

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
    await page.evaluate(measure, 5);
    const before = await spent(own, pid);
    const measured = await page.evaluate(measure, edits);
    const after = await spent(own, pid);
    print(measured);
    for (const [words, at] of [["the program", 0], ["the page", 1], ["drawing without a card", 2]]) {
      console.log(`processor time an edit, ${words}`.padEnd(40), `${((after[at] - before[at]) / edits).toFixed(1)} ms`.padStart(8));
    }
  },
);
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

/** In the page: types a size and waits for the picture, again and again. */
async function measure(count) {
  const canvas = document.querySelector("canvas");
  const box = [...document.querySelectorAll("input.entry")][0];
  const frames = () => Number(canvas.dataset.frames);
  const whole = [];
  const asked = [];
  for (let i = 0; i < count; i++) {
    const before = frames();
    box.value = String(50 + (i % 20) + 0.5);
    box.dispatchEvent(new Event("input", { bubbles: true }));
    performance.clearResourceTimings();
    const from = performance.now();
    box.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true }));
    while (frames() === before) await new Promise((next) => setTimeout(next, 0));
    whole.push(performance.now() - from);
    await new Promise((next) => setTimeout(next, 80));
    const entry = performance.getEntriesByType("resource").find(({ name }) => name.endsWith("/edits"));
    if (entry) asked.push(entry.duration);
  }
  return { whole, asked };
}

function print(measured) {
  const at = (list, part) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * part))];
  console.log(`${boards} boards, ${measured.whole.length} edits of a size; load of the machine ${loadavg()[0].toFixed(1)}`);
  console.log(`${"".padEnd(40)}   median      p95      max`);
  for (const [words, list] of [["Enter to new picture", measured.whole], ["of it, the request", measured.asked]]) {
    console.log(`${words.padEnd(40)} ${[0.5, 0.95, 1].map((p) => `${at(list, p)?.toFixed(1)} ms`.padStart(9)).join("")}`);
  }
}
