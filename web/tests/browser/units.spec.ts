// Inches or millimetres at a switch: all figures follow, the text stays, and what is typed counts where it says.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "./workbench";

test("figures in millimetres, the text in inches", async ({ page, workbench }) => {
  workbench.put("trestle");
  const file = join(workbench.folder, "trestle.toml");
  const before = readFileSync(file, "utf8");
  await page.goto(`${workbench.address}/#/trestle/shape`);
  const high = page.locator("dl > div", { hasText: "High" }).locator("dd");
  await expect(page.getByRole("heading", { name: "Over all" })).toBeVisible();
  await expect(high).toContainText('"');
  const boards = await page.locator("[data-board]").count();

  await page.getByRole("button", { name: "mm", exact: true }).click();
  await expect(page.getByRole("button", { name: "mm", exact: true })).toHaveAttribute("aria-pressed", "true");
  await expect(high).toContainText("mm");
  await expect(page.locator("[data-board]")).toHaveCount(boards);
  await expect(page.locator("[data-board]").first()).toContainText(/\d mm|\d{3}/);
  expect(readFileSync(file, "utf8")).toBe(before);

  // A bare figure for a size counts in what is shown; the file is told the unit.
  const height = page.getByLabel("height", { exact: true });
  await height.fill("800");
  await height.press("Enter");
  await expect(page.getByRole("slider", { name: /^height/ })).toHaveAttribute("aria-valuetext", "800 mm");
  await expect.poll(() => readFileSync(file, "utf8")).toContain('"800 mm"');

  // Forms write into the text as it is typed, and say which unit that is.
  for (const form of ["Board", "Joint", "Copy"]) {
    await page.getByRole("button", { name: form, exact: true }).click();
    await expect(page.getByRole("form", { name: `Add a ${form.toLowerCase()}` })).toContainText("Bare figures are inches, the unit of the text");
  }
  await page.getByText("Add a size").click();
  await expect(page.locator("details form")).toContainText("Bare figures are inches, the unit of the text");

  // The switch outlasts a reload; each stage shows it.
  await page.reload();
  await expect(high).toContainText("mm");
  await page.getByRole("link", { name: /Saw/ }).click();
  await expect(page.getByRole("table")).toContainText("mm");
  await page.getByRole("button", { name: "Make the sawing plan" }).click();
  await page.getByRole("link", { name: /Sell/ }).click();
  await expect(page.getByRole("link", { name: "Download the book" })).toHaveAttribute("href", /unit=mm/, { timeout: 20_000 });
  await expect(page.getByLabel("Listing text")).toHaveValue(/mm/);

  await page.getByRole("button", { name: "in", exact: true }).click();
  await page.getByRole("link", { name: /Shape/ }).click();
  await expect(high).toContainText('"');
  await expect(page.getByRole("form")).toHaveCount(0);
  await page.getByRole("button", { name: "Board", exact: true }).click();
  await expect(page.getByRole("form", { name: "Add a board" })).toContainText("Bare figures are inches; 19 mm works too.");
});
