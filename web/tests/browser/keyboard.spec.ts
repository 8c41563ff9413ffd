// The whole job without a pointer: everything is reached with Tab, is seen to be reached, and does its work.
import type { Locator, Page } from "@playwright/test";
import { expect, test } from "./workbench";

const stages = ["shape", "prove", "buy", "saw", "build", "sell"];

test.skip(({ isMobile }) => isMobile, "a phone has no keyboard");

/** Presses Tab until the target has the keyboard. */
async function tabTo(page: Page, target: Locator, key = "Tab"): Promise<void> {
  for (let i = 0; i < 150; i++) {
    if ((await target.count()) && (await target.evaluate((element) => element === document.activeElement))) return;
    await page.keyboard.press(key);
  }
  throw new Error(`Tab does not come to ${target}`);
}

async function press(page: Page, target: Locator, key = "Enter"): Promise<void> {
  await tabTo(page, target);
  await page.keyboard.press(key);
}

/** Into the box that has the keyboard, instead of what is in it. */
async function typeOver(page: Page, words: string): Promise<void> {
  await page.keyboard.press("Control+a");
  await page.keyboard.type(words);
}

/** What can take the keyboard, told by words for people; of radio buttons of a group the one that is chosen. */
const stops = `[...document.querySelectorAll("a[href], button:not(:disabled), input, select, textarea, summary, iframe, [tabindex='0'], [contenteditable='true']")]
  .filter((e) => e.checkVisibility({ checkVisibilityCSS: true }) && !(e.type === "radio" && !e.checked) && e.tabIndex >= 0)`;

for (const stage of stages) {
  test(`Tab reaches all of ${stage}, and shows where it is`, async ({ page, workbench }) => {
    workbench.put("trestle");
    await page.goto(`${workbench.address}/#/trestle/saw`);
    await page.getByRole("button", { name: "Make the sawing plan" }).click();
    await expect(page.getByRole("button", { name: "By board" })).toBeVisible();
    await page.goto(`${workbench.address}/#/trestle/${stage}`);
    await page.reload();
    await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
    if (stage === "shape") await page.getByRole("button", { name: /leg-a/ }).first().click();
    await page.waitForTimeout(600);
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    await page.evaluate(`window.__seen = new Set(); window.__unseen = []`);
    for (let i = 0; i < 220; i++) {
      await page.keyboard.press("Tab");
      const isRound = await page.evaluate(() => {
        const seen = (window as unknown as { __seen: Set<Element> }).__seen;
        const at = document.activeElement;
        if (!at || at === document.body) return false; // round by the browser's own frame
        const before = seen.size;
        seen.add(at);
        if (seen.size === before) return at.tagName !== "IFRAME" && at === [...seen][0];
        const style = getComputedStyle(at);
        const box = at.getBoundingClientRect();
        const isShown = (style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2) || at.tagName === "IFRAME";
        const isInSight = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
        if (!isShown || !isInSight) (window as unknown as { __unseen: string[] }).__unseen.push(`${at.outerHTML.slice(0, 120)} shown ${isShown} in sight ${isInSight}`);
        return false;
      });
      if (isRound) break;
    }
    expect(await page.evaluate(`window.__unseen`)).toEqual([]);
    expect(await page.evaluate(`${stops}.filter((e) => !window.__seen.has(e)).map((e) => e.outerHTML.slice(0, 160))`)).toEqual([]);
  });
}

test("a piece from nothing, with keys only", async ({ page, workbench }) => {
  await page.goto(workbench.address);
  await press(page, page.getByRole("button", { name: "New piece" }));
  await tabTo(page, page.getByLabel("What is it called?"));
  await page.keyboard.type("Cross");
  await page.keyboard.press("Enter");
  await expect(page.getByText("Nothing is built yet")).toBeVisible();

  await press(page, page.locator("summary", { hasText: "Add a size" }));
  for (const [label, words] of [["Name", "height"], ["Is", "24"], ["From (may be left out)", "20"], ["To", "30"]] as const) {
    await tabTo(page, page.getByLabel(label, { exact: true }));
    await page.keyboard.type(words);
  }
  await page.keyboard.press("Enter");
  await expect(page.getByRole("slider", { name: /^height/ })).toBeVisible();

  const addBoard = async (name: string, from: string[], to: string[]) => {
    await tabTo(page, page.getByRole("button", { name: "Board", exact: true }));
    await page.keyboard.press("Enter");
    const form = page.getByRole("form", { name: "Add a board" });
    await expect(form.getByLabel("Stock")).toBeFocused();
    await tabTo(page, form.getByLabel("Its name"));
    await page.keyboard.type(name);
    await tabTo(page, form.getByLabel("so far that way"));
    await page.keyboard.press("ArrowDown");
    for (const [label, place] of [["Ends at", to], ["Starts at", from]] as const) {
      for (const [i, way] of (["right", "away", "up"] as const).entries()) {
        await tabTo(page, form.getByLabel(`${label}, ${way}`), label === "Ends at" ? "Tab" : "Shift+Tab");
        await typeOver(page, place[i]!);
      }
    }
    await tabTo(page, form.getByLabel("Broad face looks"));
    await page.keyboard.type("right");
    await press(page, form.getByRole("button", { name: "Add the board" }));
    await expect(form).toBeHidden();
    await expect(page.getByRole("button", { name: "Board", exact: true })).toBeFocused();
  };
  // Shift+Tab goes from the last box back, so the first place is told from its end.
  await addBoard("leg-a", ["0", "-8", "0"], ["0", "8", "height"]);
  await addBoard("leg-b", ["0", "8", "0"], ["0", "-8", "height"]);

  // A joint: the first board in the picture, the second from the list.
  await press(page, page.getByRole("button", { name: "Joint", exact: true }));
  const joint = page.getByRole("form", { name: "Add a joint" });
  const point = joint.getByRole("button", { name: "Point at: First board (a)" });
  await press(page, point);
  await expect(page.locator("canvas")).toBeFocused();
  await page.keyboard.press("n");
  await page.keyboard.press("Enter");
  await expect(point).toBeFocused();
  await expect(joint.getByLabel("First board (a)", { exact: true })).toHaveValue("leg-a");
  await tabTo(page, joint.getByLabel("Second board (b)", { exact: true }));
  await page.keyboard.type("leg-b");
  await press(page, joint.getByRole("button", { name: "Add the joint" }));
  await expect(joint).toBeHidden();

  // Chosen in the picture, named anew on its card, and the card put away.
  const canvas = page.locator("canvas");
  await tabTo(page, canvas, "Shift+Tab");
  await page.keyboard.press("Escape");
  await page.keyboard.press("n");
  await expect(page.getByRole("heading", { name: "leg-a" })).toBeVisible();
  await page.keyboard.press("n");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("heading", { name: "leg-b" })).toBeFocused();
  await tabTo(page, page.getByLabel("called"));
  await typeOver(page, "leg-far");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("heading", { name: "leg-far" })).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(page.getByRole("heading", { name: "leg-far" })).toBeHidden();
  await expect(page.locator("[data-board=leg-far]")).toBeFocused();

  // A copy, and taken back by keys.
  await tabTo(page, page.getByRole("button", { name: "Copy", exact: true }), "Shift+Tab");
  await page.keyboard.press("Enter");
  const copy = page.getByRole("form", { name: "Add a copy" });
  await expect(copy.locator("select").first()).toBeFocused();
  await page.keyboard.press("Escape");
  await expect(copy).toBeHidden();
  await expect(page.getByRole("button", { name: "Copy", exact: true })).toBeFocused();
  await page.keyboard.press("Control+z");
  await expect(page.locator("[data-board=leg-b]")).toBeVisible();

  // History: looked at, an earlier state brought back; the keyboard is where it was.
  const history = page.getByRole("button", { name: "History" });
  await tabTo(page, history, "Shift+Tab");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("dialog")).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(page.getByRole("dialog")).toBeHidden();
  await expect(history).toBeFocused();

  // On to the saw.
  await press(page, page.getByRole("link", { name: /Saw/ }));
  await press(page, page.getByRole("button", { name: "Make the sawing plan" }));
  await press(page, page.getByRole("button", { name: "By set-up" }));
  await expect(page.getByRole("heading", { name: /^1\./ })).toBeVisible({ timeout: 20_000 });
  workbench.check("cross");
});

test("the steps are gone through with keys", async ({ page, workbench }) => {
  workbench.put("trestle");
  await page.goto(`${workbench.address}/#/trestle/shape`);
  await press(page, page.getByRole("link", { name: /Build/ }));
  const step = page.getByRole("heading", { name: /Step \d+ of \d+/ });
  await expect(step).toHaveText(/^Step 1 of/);
  const slider = page.getByRole("slider", { name: "How far it is put together" });
  await tabTo(page, slider);
  await page.keyboard.press("End");
  await expect(step).toHaveText(/^Step (\d+) of \1$/);
  await page.keyboard.press("Home");
  await expect(step).toHaveText(/^Step 1 of/);
  const next = page.getByRole("button", { name: "Next step" });
  await press(page, next);
  await expect(step).toHaveText(/^Step 2 of/);
  for (let i = 0; i < 12; i++) await page.keyboard.press("Enter"); // beyond the last it stays, and keeps the keyboard
  await expect(step).toHaveText(/^Step (\d+) of \1$/);
  await expect(next).toBeFocused();
});

test("what the keys do can be looked up", async ({ page, workbench }) => {
  workbench.put("trestle");
  await page.goto(`${workbench.address}/#/trestle/shape`);
  await expect(page.locator("canvas")).toHaveAttribute("data-frames", /\d/);
  await tabTo(page, page.locator("canvas"));
  await page.keyboard.press("?");
  await expect(page.getByRole("dialog")).toContainText("the next board, the last one");
  await page.keyboard.press("Escape");
  await expect(page.getByRole("dialog")).toBeHidden();
  await expect(page.locator("canvas")).toBeFocused();
});
