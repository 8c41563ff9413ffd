// From nothing to the plan book, by pointing and typing only; then the command line agrees.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Locator, Page } from "@playwright/test";
import { expect, test } from "./workbench";

interface BoardWords {
  name: string;
  from: [string, string, string];
  to: [string, string, string];
  face?: string;
}

async function addBoard(page: Page, { name, from, to, face }: BoardWords): Promise<void> {
  await page.getByRole("button", { name: "Board", exact: true }).click();
  const form = page.getByRole("form", { name: "Add a board" });
  await form.getByLabel("Its name").fill(name);
  await form.getByLabel("to a place").check();
  for (const [label, place] of [["Starts at", from], ["Ends at", to]] as const) {
    for (const [i, way] of ["right", "away", "up"].entries()) {
      await form.getByLabel(`${label}, ${way}`).fill(place[i]!);
    }
  }
  if (face) await form.getByLabel("Broad face looks").selectOption(face);
  await form.getByRole("button", { name: "Add the board" }).click();
  await expect(form).toBeHidden();
}

/** Waits until the picture has been drawn again. */
async function drawnAgain(canvas: Locator, act: () => Promise<unknown>): Promise<void> {
  const before = Number(await canvas.getAttribute("data-frames"));
  await act();
  await expect.poll(async () => Number(await canvas.getAttribute("data-frames"))).toBeGreaterThan(before);
}

test("a three-board piece from nothing", async ({ page, workbench }) => {
  await page.goto(workbench.address);
  await page.getByRole("button", { name: "New piece" }).click();
  await page.getByLabel("What is it called?").fill("Crossed stand");
  await page.getByRole("button", { name: "Begin" }).click();
  await expect(page.getByText("Nothing is built yet")).toBeVisible();

  await page.getByText("Add a size").click();
  await page.getByLabel("Name", { exact: true }).fill("height");
  await page.getByLabel("Is", { exact: true }).fill("24");
  await page.getByLabel("From (may be left out)").fill("20");
  await page.getByLabel("To", { exact: true }).fill("30");
  await page.getByRole("button", { name: "Add it" }).click();
  await expect(page.getByRole("slider", { name: /^height/ })).toBeVisible();

  await addBoard(page, { name: "leg-a", from: ["0", "-8", "0"], to: ["0", "8", "height"], face: "right" });
  await addBoard(page, { name: "leg-b", from: ["0", "8", "0"], to: ["0", "-8", "height"], face: "right" });

  // The joint's boards: one by pointing at it in the picture, the other from the list.
  await page.getByRole("button", { name: "Joint", exact: true }).click();
  const joint = page.getByRole("form", { name: "Add a joint" });
  await expect(joint.getByLabel("Kind")).toHaveValue("half-lap");
  await joint.getByRole("button", { name: "Point at: First board (a)" }).click();
  const canvas = page.locator("canvas");
  await expect(canvas).toHaveAttribute("data-frames", /\d/);
  const box = (await canvas.boundingBox())!;
  const first = joint.getByLabel("First board (a)", { exact: true });
  for (let i = 0; i < 24 && !(await first.inputValue()).startsWith("leg"); i++) {
    await canvas.click({ position: { x: box.width / 2, y: box.height * (0.3 + i * 0.02) } });
  }
  const a = await first.inputValue();
  expect(["leg-a", "leg-b"]).toContain(a);
  await joint.getByLabel("Second board (b)", { exact: true }).selectOption(a === "leg-a" ? "leg-b" : "leg-a");
  await joint.getByRole("button", { name: "Add the joint" }).click();
  await expect(joint).toBeHidden();

  await addBoard(page, { name: "top", from: ["-12", "0", "height + 3/4"], to: ["12", "0", "height + 3/4"], face: "up" });
  await expect(page.getByRole("heading", { name: "Boards 3" })).toBeVisible();

  // A size changed by typing: the picture follows, and undo takes it back.
  const height = page.getByLabel("height", { exact: true });
  await drawnAgain(canvas, async () => {
    await height.fill("25 1/2");
    await height.press("Enter");
  });
  await expect(page.getByRole("slider", { name: /^height/ })).toHaveValue("25.5");
  await drawnAgain(canvas, () => page.getByRole("button", { name: /^Undo/ }).click());
  await expect(page.getByRole("slider", { name: /^height/ })).toHaveValue("24");
  await page.getByRole("button", { name: /^Redo/ }).click();
  await expect(page.getByRole("slider", { name: /^height/ })).toHaveValue("25.5");

  await page.getByRole("link", { name: /Saw/ }).click();
  await expect(page.getByRole("table")).toContainText("top");
  await page.getByRole("button", { name: "Make the sawing plan" }).click();
  await page.getByRole("button", { name: "By board" }).click();
  await expect(page.getByRole("img", { name: /Which part comes out/ }).locator("svg")).toBeVisible({ timeout: 20_000 });

  await page.reload();
  await expect(page.getByRole("heading", { name: "Crossed stand" })).toBeVisible();
  await page.getByRole("link", { name: /Sell/ }).click();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("link", { name: "Download the book" }).click(),
  ]);
  const book = readFileSync(await download.path());
  expect(book.subarray(0, 5).toString()).toBe("%PDF-");

  workbench.check("crossed-stand");
  const text = readFileSync(join(workbench.folder, "crossed-stand.toml"), "utf8");
  expect(text).toContain('"25 1/2"');
  expect(text).toContain('"half-lap"');
});

test("the text beside says the same", async ({ page, workbench }) => {
  workbench.put("trestle");
  await page.goto(`${workbench.address}/#/trestle/shape`);
  await page.getByRole("button", { name: "Text" }).click();
  const editor = page.getByLabel("Text of the piece file");
  await expect(editor).toContainText("Sawing trestle"); // of a long text only the lines in sight are drawn
  await editor.click();
  await page.keyboard.press("Control+Home");
  await page.keyboard.type("wrong = = 1\n");
  await expect(page.getByText("the picture is of the last text that could be")).toBeVisible();
  await expect(page.locator(".cm-lintRange-error").first()).toBeVisible();
  await page.getByRole("button", { name: /^Undo/ }).click();
  await expect(page.getByText("the picture is of the last text that could be")).toBeHidden();
  await expect(editor).not.toContainText("wrong = = 1");
});

test("a wrong value is told, and nothing is lost", async ({ page, workbench }) => {
  workbench.put("trestle");
  await page.goto(`${workbench.address}/#/trestle/shape`);
  const sizes = page.getByRole("region", { name: "Sizes" });
  const size = sizes.getByRole("textbox").first();
  const before = await size.inputValue();
  const boards = await page.getByRole("heading", { name: /^Boards \d+/ }).textContent();
  const trouble = sizes.getByText("the lower number of this fraction is zero");
  const isEarlier = page.getByText("the picture is of the last text that could be");

  const sent: string[] = [];
  page.on("request", (request) => request.url().endsWith("/edits") && sent.push(request.url()));
  await size.fill("12 1/0");
  await size.press("Enter");
  await expect(trouble).toBeVisible();
  await expect(size).toHaveValue("12 1/0");
  await expect(size).toHaveAttribute("aria-invalid", "true");
  await expect(isEarlier).toBeVisible();
  await expect(page.getByRole("heading", { name: /^Boards \d+/ })).toHaveText(boards!);
  expect(sent).toHaveLength(1);

  // It outlasts a reload, and undo takes back all of it.
  await page.reload();
  await expect(size).toHaveValue("12 1/0");
  await expect(trouble).toBeVisible();
  await page.getByRole("button", { name: /^Undo/ }).click();
  await expect(size).toHaveValue(before);
  await expect(trouble).toBeHidden();
  await expect(isEarlier).toBeHidden();
});

test("the picture follows what is typed, and nothing is kept until it stands", async ({ page, workbench }) => {
  workbench.put("trestle");
  const file = join(workbench.folder, "trestle.toml");
  const before = readFileSync(file, "utf8");
  await page.goto(`${workbench.address}/#/trestle/shape`);
  const canvas = page.locator("canvas");
  await expect(canvas).toHaveAttribute("data-frames", /\d/);
  const height = page.getByLabel("height", { exact: true });
  const high = page.locator("dl > div", { hasText: "High" }).locator("dd");
  const was = await high.textContent();
  await drawnAgain(canvas, () => height.fill("36"));
  await expect(high).toHaveText('36"');
  await height.fill("3"); // half a figure, out of range: the piece as it is kept
  await expect(high).toHaveText(was!);
  await height.fill("36");
  await expect(high).toHaveText('36"');
  await height.press("Escape");
  await expect(high).toHaveText(was!);
  await expect(height).toHaveValue("32");
  expect(readFileSync(file, "utf8")).toBe(before);
  await expect(page.getByRole("button", { name: "Undo", exact: true })).toBeDisabled();
});

test("board and joint are changed on the card, value by value", async ({ page, workbench }) => {
  workbench.put("trestle");
  const text = () => readFileSync(join(workbench.folder, "trestle.toml"), "utf8");
  await page.goto(`${workbench.address}/#/trestle/shape`);
  await page.locator("[data-board=stretcher-middle]").click();
  const card = page.getByRole("region", { name: /stretcher-middle/ });
  const up = card.getByLabel("to, up");
  await expect(up).toHaveValue("height / 2");
  await up.fill("height / 2 + 1/4");
  await up.press("Enter");
  await expect.poll(text).toContain('["long / 2", "0", "height / 2 + 1/4"]');

  await page.locator("[data-board=leg-a]").click();
  const leg = page.getByRole("region", { name: /leg-a/ });
  await leg.getByText("Change joint crossing").click();
  await leg.getByRole("textbox", { name: "slack" }).fill("1/32");
  await leg.getByRole("textbox", { name: "slack" }).press("Enter");
  await expect.poll(text).toMatch(/ease\s*=\s*"1\/32"/);
  await expect(leg.getByRole("textbox", { name: "slack" })).toHaveValue("1/32");
  // Entered while the value before is still on its way.
  await page.route("**/api/**", async (route) => {
    if (route.request().method() === "POST") await new Promise((done) => setTimeout(done, 300));
    await route.continue();
  });
  await leg.getByRole("textbox", { name: "slack" }).fill("1/16");
  await leg.getByRole("textbox", { name: "slack" }).press("Enter");
  await leg.getByRole("textbox", { name: "slack" }).fill("");
  await leg.getByRole("textbox", { name: "slack" }).press("Enter");
  await expect.poll(text).not.toContain("ease");
});
