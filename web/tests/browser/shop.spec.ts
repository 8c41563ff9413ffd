// The whole trade by pointing and typing, with the program behind the page: boards in, prices, orders of mixed sizes,
// one plan, bought, sawn, made, to the buyer; and the books agree at the end.
import { readFileSync } from "node:fs";
import type { Locator, Page } from "@playwright/test";
import type { Trade } from "../../src/api/types";
import { expect, test } from "./workbench";

const room = (page: Page, name: string) => page.getByRole("link", { name: new RegExp(`^${name}`) }).click();
const slip = (page: Page): Locator => page.getByRole("dialog");
const bar = (page: Page): Locator => page.locator(".bar");

async function send(page: Page, does: string): Promise<void> {
  await slip(page).getByRole("button", { name: does, exact: true }).click();
  await expect(slip(page)).toBeHidden();
}

async function books(page: Page): Promise<Trade> {
  const trade = (await (await page.request.get(`${new URL(page.url()).origin}/api/trade?unit=in`)).json()) as Trade;
  expect(trade.accounts.reduce((sum, { amount }) => sum + amount, 0)).toBe(0);
  return trade;
}

async function takeOrder(page: Page, buyer: string, piece: string, count: string, each: string, sizes: Record<string, string> = {}): Promise<void> {
  await page.getByRole("button", { name: "Take an order" }).click();
  await slip(page).getByLabel("Buyer").fill(buyer);
  await slip(page).getByLabel("Piece").selectOption({ label: piece });
  await slip(page).getByLabel("How many").fill(count);
  await slip(page).getByLabel("Due").fill("2199-01-31");
  await slip(page).getByLabel(/^Agreed for one/).fill(each);
  for (const [name, value] of Object.entries(sizes)) await slip(page).getByLabel(name, { exact: true }).fill(value);
  await send(page, "Take the order");
}

async function pdf(page: Page, link: Locator): Promise<void> {
  const address = await link.getAttribute("href");
  const reply = await page.request.get(new URL(address!, page.url()).href);
  expect((await reply.body()).subarray(0, 5).toString()).toBe("%PDF-");
}

test("from the yard to the buyer", async ({ page, workbench }) => {
  test.setTimeout(120_000);
  workbench.put("trestle");
  workbench.put("tote");
  await page.goto(workbench.address);
  await page.getByRole("link", { name: "The shop" }).click();

  // How the shop reckons: what cannot be is told at its place, and nothing typed is lost.
  await room(page, "Reckon");
  await page.getByLabel("Name, on quotes and invoices").fill("Bench & Bough");
  await page.getByLabel("Currency").fill("$");
  await page.getByLabel(/^Wage, an hour/).fill("28.0.0");
  await page.getByLabel("Tax on top, %").fill("8");
  await page.getByRole("button", { name: "Reckon by this" }).click();
  await expect(page.getByLabel(/^Wage, an hour/)).toHaveAttribute("aria-invalid", "true");
  await expect(page.getByLabel(/^Wage, an hour/)).toBeFocused();
  await page.getByLabel(/^Wage, an hour/).fill("28");
  await page.getByRole("button", { name: "Reckon by this" }).click();
  await expect(page.getByRole("heading", { name: "Bench & Bough" })).toBeVisible();
  expect((await books(page)).shop).toMatchObject({ name: "Bench & Bough", currency: "$", wage: 2800, tax_percent: 8 });

  await room(page, "Money");
  await page.getByRole("button", { name: "Owner" }).click();
  await slip(page).getByLabel("How much, $").fill("2,000");
  await send(page, "Book it");

  // Boards, several at once; a fault of theirs is told where it stands.
  await room(page, "Rack");
  await page.getByRole("button", { name: "Add boards" }).click();
  await slip(page).getByLabel("were here already, or given").check();
  await slip(page).getByLabel("How many").fill("2");
  await slip(page).getByLabel("Length, in").fill("96 1/4");
  await slip(page).getByLabel("Sold as").fill("2x4");
  await slip(page).getByLabel("Species").fill("Spruce-Pine-Fir");
  await slip(page).getByLabel("Worth each, $").fill("3.80");
  await slip(page).getByRole("button", { name: "Another board" }).click();
  const second = slip(page).getByRole("group", { name: "Board 2" });
  await expect(second.getByLabel("Sold as")).toHaveValue("2x4");
  await second.getByLabel("Length, in").fill("long");
  await slip(page).getByRole("button", { name: "They were here already" }).click();
  await expect(second.getByLabel("Length, in")).toHaveAttribute("aria-invalid", "true");
  await second.getByLabel("Length, in").fill("8 ft");
  await second.getByLabel("Faults").fill("20 to 22; 40 to 41");
  await send(page, "They were here already");
  await expect(page.getByRole("row")).toHaveCount(4);
  await expect(page.getByText(/^faulty/)).toBeVisible();
  const [first] = (await books(page)).boards;
  await page.getByLabel("Look for a code, stock, species").fill(first!.code);
  await expect(page.getByRole("row")).toHaveCount(2);
  await page.getByRole("button", { name: `Measure ${first!.code} again` }).click();
  await slip(page).getByLabel("Length, in").fill("96");
  await send(page, "Enter what it measures");
  await expect.poll(async () => (await books(page)).boards[0]!.length.text).toBe('96"');
  await pdf(page, page.getByRole("link", { name: "Labels" }));

  // Gone by mistake: undone.
  await page.getByLabel(`Tick ${first!.code}`).check();
  await page.getByRole("button", { name: "Gone" }).click();
  await send(page, "They are gone");
  await expect(page.getByText("No board is called that.")).toBeVisible();
  await bar(page).getByRole("button", { name: "Undo" }).click();
  await expect(page.getByLabel(`Tick ${first!.code}`)).toBeVisible();

  // Prices: one typed, others from a list.
  await room(page, "Prices");
  await page.getByRole("button", { name: "Add a price" }).click();
  await slip(page).getByLabel("Sold as").fill("2x4");
  await slip(page).getByLabel("Yard").fill("Mill");
  await slip(page).getByLabel("Price, $").fill("4.10");
  await slip(page).getByLabel(/^Length/).fill("8 ft");
  await send(page, "Note the price");
  await expect(page.getByText("$4.10")).toBeVisible();
  const today = (await books(page)).today;
  await page.getByRole("button", { name: "From CSV" }).click();
  await slip(page).getByLabel("or the list itself").fill(`day,yard,stock,length,per,price\n${today},Mill,5/4x10,8 ft,piece,9.40\n${today},Mill,1x6,8 ft,piece,7.20\n${today},Mill,1x2,8 ft,piece,1.90\n`);
  await send(page, "Take the list in");
  await expect(page.getByText("$9.40")).toBeVisible();

  // Orders: two pieces, one in a buyer's own size.
  await room(page, "Orders");
  await takeOrder(page, "Reed", "Sawing trestle", "2", "95");
  await takeOrder(page, "Okafor", "Sawing trestle", "1", "99", { height: "30 in" });
  await takeOrder(page, "Lund", "Sloped tote", "1", "65");
  const reed = page.getByRole("article", { name: /Reed/ });
  await reed.getByRole("button", { name: "Quote" }).click();
  await expect(slip(page).getByLabel(/^All together/)).toHaveValue("190.00");
  await expect(slip(page).getByLabel(/^Tax on it/)).toHaveValue("15.20");
  await send(page, "Quote it");
  await expect(bar(page)).toContainText(/order \d+ quoted at 205.20/);
  await pdf(page, reed.getByRole("link", { name: /quote \$205.20/ }));

  // One plan over all of them, into the books.
  await room(page, "Batches");
  await page.getByLabel("Its name").fill("Spring");
  await page.getByRole("button", { name: "Plan the batch" }).click();
  const plan = page.getByRole("region", { name: "The batch that is being planned" });
  await expect(plan.getByRole("button", { name: "Enter it into the books" })).toBeEnabled({ timeout: 60_000 });
  await expect(plan.getByText(/proved|within/).first()).toBeVisible();
  await expect(plan.getByRole("row")).toHaveCount(5);
  await pdf(page, plan.getByRole("link", { name: "Sawing PDF" }));
  await plan.getByRole("button", { name: "Enter it into the books" }).click();
  await expect(plan).toBeHidden();
  const batch = page.getByRole("article", { name: "Spring" });
  await batch.getByRole("button", { name: "They are bought" }).click();
  for (const each of await slip(page).getByLabel(/^Each/).all()) if (!(await each.inputValue())) await each.fill("5");
  await send(page, "They are bought and paid");
  await expect(batch.getByRole("heading", { name: "To buy" })).toBeHidden();
  await batch.getByRole("button", { name: "Sawn as planned" }).click();
  await expect(batch.getByText("sawn", { exact: true })).toBeVisible();
  const offcuts = (await books(page)).boards.filter(({ born_in }) => born_in > 0);
  expect(offcuts.length).toBeGreaterThan(0);

  // An offcut is kept for the batch, and set free again.
  await room(page, "Rack");
  await page.getByLabel(`Tick ${offcuts[0]!.code}`).check();
  await page.getByRole("button", { name: "Keep for a batch" }).click();
  await send(page, "Keep them");
  await expect(page.getByText("kept for Spring")).toBeVisible();
  await page.getByRole("button", { name: "Set free" }).click();
  await expect(page.getByText("kept for Spring")).toBeHidden();
  await room(page, "Batches");

  // Made: one part by one, the rest at once; time for the log.
  const parts = (await books(page)).batches[0]!.parts;
  await batch.getByRole("button", { name: `One ${parts[0]!.part} more` }).click();
  await expect(batch.getByText(new RegExp(`^1 of ${parts[0]!.wanted}$`))).toBeVisible();
  for (const { part } of parts) {
    const all = batch.getByRole("button", { name: `All of ${part}`, exact: true });
    if (await all.isEnabled()) await all.click();
    await expect.poll(async () => (await books(page)).batches[0]!.parts.every((one) => one.part !== part || one.done === one.wanted)).toBe(true);
  }
  await batch.getByRole("button", { name: "Log time" }).click();
  await slip(page).getByLabel("How long").fill("6:30");
  await slip(page).getByText("What was done in it").click();
  await slip(page).getByLabel("Cuts").fill("64");
  await send(page, "Log it");
  await expect(batch.getByText(/6 h 30 min logged/)).toBeVisible();

  // To the buyers.
  await room(page, "Orders");
  for (const buyer of ["Reed", "Okafor", "Lund"]) {
    const ticket = page.getByRole("article", { name: new RegExp(buyer) });
    await ticket.getByRole("button", { name: "Invoice" }).click();
    await send(page, "Invoice it");
    await pdf(page, ticket.getByRole("link", { name: /^invoice/ }));
    await ticket.getByRole("button", { name: "Paid" }).click();
    await slip(page).getByLabel("What market or card took of it").fill("1.50");
    await send(page, "It is paid");
    await ticket.getByRole("button", { name: "Delivered" }).click();
    await expect(ticket).toBeHidden();
  }
  await expect(page.getByText("Nothing is open.")).toBeVisible();

  await room(page, "Money");
  await expect(page.getByText("Both sides agree: all accounts sum to zero.")).toBeVisible();
  const end = await books(page);
  expect(end.orders.map(({ state, owed }) => [state, owed])).toEqual(Array(3).fill(["delivered", 0]));
  expect(end.batches[0]).toMatchObject({ is_over: true, spent: 0 });
  expect(end.accounts.find(({ kind }) => kind === "fees")?.amount).toBe(450);
  expect(end.accounts.find(({ kind }) => kind === "sales")?.amount).toBe(-(2 * 9500 + 9900 + 6500));
});

test("a cost, the price asked, and an order from there", async ({ page, workbench }) => {
  workbench.put("trestle");
  await page.goto(`${workbench.address}/#/trestle/buy`);
  await expect(page.getByRole("heading", { name: "On the rack for it" })).toBeVisible();
  await page.getByRole("link", { name: /Sell/ }).click();
  await page.getByRole("button", { name: "Cost and price" }).click();
  await page.getByRole("button", { name: "Reckon the cost" }).click();
  await expect(page.getByRole("img", { name: /^Cost of one against/ })).toBeVisible({ timeout: 40_000 });
  const { cost } = (await (await page.request.get(`${workbench.address}/api/trade/work`)).json()) as { cost: { price: number; profit: number; fee: number; each: number } };
  expect(cost.price).toBeGreaterThan(cost.each);

  // What the page makes of the program's own price is what the program says of it.
  const { shop } = await books(page);
  const { saleAt, shown, typedOf } = await import("../../src/model/money");
  await page.getByLabel(/^If you ask/).fill(typedOf(cost.price));
  await expect(page.getByText("then leaves")).toBeVisible();
  expect(saleAt(cost.each, cost.price, shop)).toMatchObject({ profit: cost.profit, fee: cost.fee });
  await expect(page.locator(".price [role=status] strong")).toHaveText(shown(cost.profit, shop.currency));

  await page.getByRole("button", { name: "Take an order" }).click();
  await expect(slip(page).getByLabel(/^Agreed for one/)).toHaveValue(typedOf(cost.price));
  await slip(page).getByLabel("Buyer").fill("Ann");
  await send(page, "Take the order");
  expect((await books(page)).orders).toMatchObject([{ buyer: "Ann", piece: "trestle", each: cost.price }]);
});

test("with keys alone, and with another hand in the same books", async ({ page, workbench }) => {
  await page.goto(`${workbench.address}/#/shop/money`);
  const open = page.getByRole("button", { name: "Money spent", exact: true });
  await open.focus();
  await page.keyboard.press("Enter");
  await expect(slip(page).getByLabel("Spent on")).toBeFocused();
  await page.keyboard.press("Tab");
  await page.keyboard.type("12.40");
  // Meanwhile somebody else writes.
  const known = await books(page);
  const other = { after: known.entries, entries: [{ form: 1, day: known.today, event: "owner-paid", amount: 5000 }] };
  const isHeard = await page.evaluate(async (body) => (await fetch("/api/trade/entries", { method: "POST", body: JSON.stringify(body), headers: { "content-type": "application/json" } })).ok, other);
  expect(isHeard).toBe(true);
  await page.keyboard.press("Enter");
  await expect(slip(page)).toBeHidden();
  await expect(open).toBeFocused();
  await expect(page.locator("ol > li")).toHaveCount(2);
  expect((await books(page)).accounts.find(({ kind }) => kind === "cash")?.amount).toBe(5000 - 1240);

  await page.keyboard.press("Control+z");
  await expect(page.locator("ol > li")).toHaveCount(3);
  await page.getByRole("button", { name: /^Bring back/ }).focus();
  await page.keyboard.press("Enter");
  await expect(page.locator("ol > li")).toHaveCount(4);
  expect((await books(page)).accounts.find(({ kind }) => kind === "cash")?.amount).toBe(3760);

  const link = page.getByRole("link", { name: "Whole journal" });
  const [file] = await Promise.all([page.waitForEvent("download"), link.press("Enter")]);
  expect(readFileSync((await file.path())!, "utf8").trim().split("\n")).toHaveLength(4);
});
