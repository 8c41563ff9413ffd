// A phone at the saw: paired by a code, ticking without the network, and nothing lost.
import { expect, test } from "./workbench";

test("ticks made without the network arrive when it is back", async ({ page, browser, workbench }) => {
  workbench.put("trestle");
  await page.goto(`${workbench.address}/#/trestle/saw`);
  await page.getByRole("button", { name: "Make the sawing plan" }).click();
  await expect(page.getByRole("button", { name: "Plan it again" })).toBeVisible({ timeout: 30_000 });
  await page.getByRole("button", { name: "Phone at the saw" }).or(page.getByRole("button", { name: "At the saw" })).click();
  await page.getByRole("button", { name: "Open to a phone" }).click();
  const code = (await page.getByTestId("pair-code").textContent())!.trim();
  const address = (await page.locator(".address").textContent())!.trim();

  const pocket = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const phone = await pocket.newPage();
  await phone.goto(address);
  await phone.getByRole("textbox").fill(code);
  await phone.getByRole("button").click();
  await expect(phone.getByRole("button", { name: "Done", exact: true })).toBeVisible();
  await expect(phone.getByText("All is sent to the workbench.")).toBeVisible();

  await pocket.setOffline(true);
  for (let i = 0; i < 3; i++) await phone.getByRole("button", { name: "Done", exact: true }).click();
  await phone.getByText("Measured size, notes").click();
  await phone.getByRole("textbox").fill("36 7/16");
  await phone.getByRole("button", { name: "Measured" }).click();
  await expect(phone.getByText("4 kept on this phone")).toBeVisible();
  await pocket.setOffline(false);
  await expect(phone.getByText("All is sent to the workbench.")).toBeVisible({ timeout: 15_000 });
  await phone.reload();
  await expect(phone.locator("#ticks .done")).toHaveCount(3);

  await expect(page.getByText("3 cuts ticked")).toBeVisible();
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: "By set-up" }).click();
  await expect(page.locator(".setups li.done")).toHaveCount(3);
  await pocket.close();
});
