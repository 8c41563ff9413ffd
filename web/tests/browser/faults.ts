// What axe finds wrong with the page as it stands.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "@playwright/test";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Within what `within` chooses; else all of it. */
export async function faults(page: Page, within = "html"): Promise<string[]> {
  await page.evaluate(axe);
  return page.evaluate(async (where) => {
    const { axe: run } = window as unknown as { axe: { run(within: string): Promise<{ violations: { id: string; nodes: { html: string; failureSummary: string }[] }[] }> } };
    const { violations } = await run.run(where);
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map((n) => `${n.html} ${n.failureSummary}`).join("\n")}`);
  }, within);
}

/** By how much the page hangs over the edge of the screen. A phone would widen what it calls its own width. */
export async function over(page: Page): Promise<number> {
  return (await page.evaluate(() => document.documentElement.scrollWidth)) - page.viewportSize()!.width;
}
