// The program behind the page, and a browser before it, for scripts.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { chromium } from "@playwright/test";

const program = process.env.KERFWRIGHT_PROGRAM ?? resolve(import.meta.dirname, "../../build/release/bin/kerfwright");

/** Runs `work` with a shelf that `fill` has put pieces on. */
export async function withWorkbench(fill, work) {
  const folder = mkdtempSync(join(tmpdir(), "kerfwright-"));
  fill(folder);
  const server = spawn(program, ["serve", folder, "--port", "0", "--no-open"], { stdio: ["ignore", "pipe", "inherit"] });
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--disable-background-networking"],
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
