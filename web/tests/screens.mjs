// Pictures of every stage. tools/screens runs it. Not of the shelf: it names a folder of this machine.
import { copyFileSync, mkdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { withWorkbench } from "./program.mjs";

const into = resolve(process.argv[2] ?? "../docs/pictures");
const starter = process.argv[3] ?? "garden-bench";
const sizes = { desktop: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } };
const stages = ["shape", "prove", "buy", "saw", "build", "sell"];

async function settle(page, stage) {
  if (["shape", "prove", "build"].includes(stage)) await page.locator("canvas[data-frames]").waitFor();
  if (stage === "shape") {
    await page.getByRole("button", { name: /leg-back/ }).first().click();
    await page.locator(".card svg").first().waitFor();
    await page.evaluate(() => scrollTo(0, 0));
  }
  if (stage === "saw") await page.getByRole("button", { name: "By board" }).click();
  if (stage === "build") await page.getByRole("button", { name: "Next step" }).click();
  await page.waitForTimeout(stage === "sell" ? 4000 : 900);
  if (["shape", "prove", "build"].includes(stage)) await page.locator("canvas[data-edges=smooth]").waitFor();
}

mkdirSync(into, { recursive: true });
await withWorkbench(
  (folder) => copyFileSync(resolve(import.meta.dirname, `../../starters/${starter}.toml`), join(folder, `${starter}.toml`)),
  async (browser, address) => {
    for (const [size, viewport] of Object.entries(sizes)) {
      for (const colorScheme of ["light", "dark"]) {
        const context = await browser.newContext({ viewport, colorScheme });
        const page = await context.newPage();
        await page.goto(`${address}/#/${starter}/saw`);
        const make = page.getByRole("button", { name: /Make the sawing plan|Plan it again/ });
        await make.waitFor();
        if ((await make.textContent())?.includes("Make")) await make.click();
        await page.getByRole("button", { name: "Plan it again" }).waitFor({ timeout: 60000 });
        for (const stage of stages) {
          await page.goto(`${address}/#/${starter}/${stage}`);
          await settle(page, stage);
          await page.screenshot({ path: join(into, `page-${stage}-${size}-${colorScheme}.png`) });
        }
        await context.close();
      }
    }
  },
);
