// A test with the real program behind the page: a shelf of its own, thrown away afterwards.
import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { test as base } from "@playwright/test";

const root = resolve(import.meta.dirname, "../../..");
export const program = process.env["KERFWRIGHT_PROGRAM"] ?? join(root, "build/gcc/bin/kerfwright");

export interface Workbench {
  address: string;
  folder: string;
  /** What the command line says of a piece of the shelf; throws when it finds an error. */
  check(piece: string): string;
  /** Puts a starter on the shelf. */
  put(starter: string, as?: string): void;
}

function started(folder: string): Promise<{ child: ChildProcess; address: string }> {
  const child = spawn(program, ["serve", folder, "--port", "0", "--no-open"], { stdio: ["ignore", "pipe", "inherit"] });
  return new Promise((done, failed) => {
    let said = "";
    child.on("error", failed);
    child.on("exit", (code) => failed(new Error(`kerfwright serve ended with ${code}: ${said}`)));
    child.stdout.on("data", (bytes: Buffer) => {
      said += bytes.toString();
      const address = /http:\/\/127\.0\.0\.1:\d+/.exec(said)?.[0];
      if (address) done({ child, address });
    });
  });
}

export const test = base.extend<{ workbench: Workbench }>({
  workbench: async ({}, use) => {
    const folder = mkdtempSync(join(tmpdir(), "kerfwright-"));
    const { child, address } = await started(folder);
    child.removeAllListeners("exit");
    await use({
      address,
      folder,
      check: (piece) => execFileSync(program, ["check", join(folder, `${piece}.toml`)], { encoding: "utf8" }),
      put: (starter, as) => copyFileSync(join(root, "starters", `${starter}.toml`), join(folder, `${as ?? starter}.toml`)),
    });
    const ended = new Promise((done) => child.once("exit", done));
    child.kill("SIGTERM");
    await ended;
    rmSync(folder, { recursive: true });
  },
});
export { expect } from "@playwright/test";
