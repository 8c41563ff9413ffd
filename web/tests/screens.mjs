// Pictures of every stage, and of every room of the shop. tools/screens runs it. Not of the shelf: it names a folder
// of this machine.
import { copyFileSync, mkdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { withWorkbench } from "./program.mjs";
import { fillShop } from "./shop-to-show.mjs";

const into = resolve(process.argv[2] ?? "../docs/pictures");
const starter = process.argv[3] ?? "garden-bench";
const sizes = { desktop: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } };
const rooms = ["rack", "prices", "orders", "batches", "money", "reckon"];
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
    await fillShop(address, starter);
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
        await page.getByRole("button", { name: "Cost and price" }).click();
        await page.getByRole("button", { name: "Reckon the cost" }).click();
        await page.getByRole("img", { name: /^Cost of one against/ }).waitFor({ timeout: 60000 });
        await page.screenshot({ path: join(into, `page-cost-${size}-${colorScheme}.png`) });
        for (const room of rooms) {
          await page.goto(`${address}/#/shop/${room}`);
          await page.locator(".sheet h2").first().waitFor();
          await page.waitForTimeout(500);
          await page.screenshot({ path: join(into, `page-shop-${room}-${size}-${colorScheme}.png`), fullPage: process.env.WHOLE === "1" });
        }
        await context.close();
      }
    }
  },
);
