// The program behind the page, and a browser before it, for scripts.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { chromium } from "@playwright/test";

const program = process.env.KERFWRIGHT_PROGRAM ?? resolve(import.meta.dirname, "../../build/release/bin/kerfwright");

/** What draws where there is no graphics hardware: the picture alone, or the whole page too. */
export const drawnBy = {
  /** As a browser does of itself: the page is put together by plain code, the picture by SwiftShader. */
  itself: [],
  /** All that is seen goes through SwiftShader, as through graphics hardware. */
  swiftshader: ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
};

/** Runs `work` with a shelf that `fill` has put pieces on. */
export async function withWorkbench(fill, work, flags = drawnBy.swiftshader) {
  const folder = mkdtempSync(join(tmpdir(), "kerfwright-"));
  fill(folder);
  const server = spawn(program, ["serve", folder, "--port", "0", "--no-open"], { stdio: ["ignore", "pipe", "inherit"] });
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-background-networking", ...flags],
  });
  try {
    const address = await new Promise((done, failed) => {
      server.on("exit", (code) => failed(new Error(`kerfwright serve ended with ${code}`)));
      server.stdout.on("data", (bytes) => {
        const found = /http:\/\/127\.0\.0\.1:\d+/.exec(String(bytes));
        if (found) done(found[0]);
      });
    });
    await work(browser, address, server.pid);
  } finally {
    server.removeAllListeners("exit");
    await browser.close();
    server.kill("SIGTERM");
    rmSync(folder, { recursive: true });
  }
}
