// Every stage, on the desk and on the phone: drawn, and without a fault that axe knows.
import { expect, test } from "@playwright/test";
import { faults, over } from "./faults";
import { standIn } from "./stand-in";

const stages = ["shape", "prove", "buy", "saw", "build", "sell"];

for (const light of ["light", "dark"] as const) {
  test.describe(light, () => {
    test.use({ colorScheme: light });
    test("the shelf", async ({ page }) => {
      await standIn(page);
      await page.goto("/#/");
      await expect(page.getByRole("heading", { name: "Your pieces" })).toBeVisible();
      await expect(page.getByRole("heading", { name: "Garden bench" })).toBeVisible();
      expect(await faults(page)).toEqual([]);
    });
    test("forms, card, text and slips", async ({ page }) => {
      await standIn(page);
      await page.goto("/#/trestle/shape");
      await page.getByRole("button", { name: /leg-a/ }).click();
      await expect(page.getByRole("heading", { name: "Marks, from the hook end" })).toBeVisible();
      for (const form of ["Board", "Joint", "Copy"]) {
        await page.getByRole("button", { name: form, exact: true }).click();
        await expect(page.getByRole("form", { name: `Add a ${form.toLowerCase()}` })).toBeVisible();
        expect(await faults(page)).toEqual([]);
      }
      await page.getByRole("button", { name: "Text" }).click();
      await expect(page.getByLabel("Text of the piece file")).toContainText("Market trestle");
      expect(await faults(page)).toEqual([]);
      await page.getByRole("button", { name: "History" }).click();
      await expect(page.getByRole("dialog")).toBeVisible();
      expect(await faults(page)).toEqual([]);
    });
    for (const stage of stages) {
      test(`the stage ${stage}`, async ({ page }, info) => {
        await standIn(page);
        await page.goto(`/#/trestle/${stage}`);
        await expect(page.getByRole("heading", { name: "Market trestle" })).toBeVisible();
        if (["shape", "prove", "build"].includes(stage)) {
          await expect(page.locator("canvas")).toHaveAttribute("data-frames", /\d+/);
        }
        if (stage === "prove") {
          await page.getByRole("button", { name: "Paint each board by what it bears" }).click();
          await expect(page.getByRole("list", { name: /^Share of what each board/ })).toBeVisible();
        }
        expect(await faults(page)).toEqual([]);
        expect(await over(page), "nothing hangs over the edge").toBeLessThanOrEqual(0);
        if (stage === "sell") {
          await expect(page.locator("iframe")).toBeVisible({ visible: info.project.name === "desktop" }); // a phone has no viewer within a page
        }
        if (process.env["SHOTS"]) {
          await page.waitForTimeout(300);
          await page.screenshot({ path: `${process.env["SHOTS"]}/${stage}-${info.project.name}-${light}.png` });
        }
      });
    }
  });
}
