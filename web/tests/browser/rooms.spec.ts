// Every room of the shop, and what a piece's stages show of it: on the desk and on the phone, without a fault that axe knows.
import { expect, type Page, test } from "@playwright/test";
import { faults, over } from "./faults";
import { standIn } from "./stand-in";

async function fits(page: Page, name: string, within = "html"): Promise<void> {
  expect(await over(page), "nothing hangs over the edge").toBeLessThanOrEqual(0);
  for (const light of ["light", "dark"] as const) {
    await page.emulateMedia({ colorScheme: light });
    expect(await faults(page, within), light).toEqual([]);
    if (process.env["SHOTS"]) await page.screenshot({ path: `${process.env["SHOTS"]}/${name}-${light}.png`, fullPage: true });
  }
}

const rooms = { rack: "On the rack", prices: "Prices seen", orders: "Orders", batches: "Batches", money: "What stands in the books", reckon: "How we reckon" };
const slips = {
  rack: ["Add boards", "From CSV", "Measure 002W again"],
  prices: ["Add a price"],
  orders: ["Take an order", "Quote", "Invoice", "Paid"],
  batches: ["They are bought", "Log time"],
  money: ["Money spent", "Supplies used", "Owner"],
  reckon: [],
};

for (const [room, heading] of Object.entries(rooms)) {
  test(`the room ${room}`, async ({ page }, info) => {
    await standIn(page);
    await page.goto(`/#/shop/${room}`);
    await expect(page.getByRole("heading", { name: heading, exact: true })).toBeVisible();
    await expect(page.getByRole("link", { name: "Orders" })).toContainText("1 late");
    await fits(page, `${room}-${info.project.name}`);
    for (const slip of slips[room as keyof typeof slips]) {
      await page.getByRole("button", { name: slip, exact: true }).first().click();
      await expect(page.getByRole("dialog")).toBeVisible();
      await fits(page, `${room}-${slip.toLowerCase().replaceAll(" ", "-")}-${info.project.name}`, "[role=dialog]");
      await page.keyboard.press("Escape");
      await expect(page.getByRole("dialog")).toBeHidden();
    }
  });
}

test("cost and price of a piece, and its rack", async ({ page }, info) => {
  await standIn(page);
  await page.goto("/#/trestle/sell");
  await page.getByRole("button", { name: "Cost and price" }).click();
  await page.getByRole("button", { name: "Reckon the cost" }).click();
  await expect(page.getByText("$175.59")).toBeVisible();
  await page.getByLabel("If you ask, $").fill("150");
  await expect(page.getByText("18.8 % margin")).toBeVisible(); // 150.00 - 110.94 - 0.30 - 6.5 % of 162.00
  await fits(page, `cost-${info.project.name}`);
  await page.goto("/#/trestle/buy");
  await expect(page.getByRole("heading", { name: "On the rack for it" })).toBeVisible();
  await fits(page, `buy-${info.project.name}`);
});
