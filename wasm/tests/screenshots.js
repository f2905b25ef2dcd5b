// Writes the pictures of docs/page/: node wasm/tests/screenshots.js; then look at them.

import { mkdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

import { enterPlace, go, start, visit } from "./page.js";

const demo = (name) => readFileSync(new URL(`../../docs/demo/${name}`, import.meta.url), "utf8");
const folder = fileURLToPath(new URL("../../docs/page", import.meta.url));
mkdirSync(folder, { recursive: true });

const host = await start();
for (const [device, width, now, theme] of [
  ["phone", 360, "2026-09-15T19:02:00Z", "dark"], // 05:02 on Wednesday 16 September
  ["desktop", 1280, "2026-09-13T02:00:00Z", "light"],
]) {
  const { page, end } = await visit(host, { width, now, theme });
  const keep = async (name) => {
    await page.evaluate(() => document.activeElement?.blur());
    await page.screenshot({ path: `${folder}/${device}-${name}.png` });
  };
  const top = (selector) => page.evaluate((one) => scrollTo(0, document.querySelector(one).getBoundingClientRect().top + scrollY - 12), selector);

  await page.getByLabel("Town or coordinates").fill(`28°48'36"S 153°16'48"E`);
  await keep("place");
  await enterPlace(page, { coordinates: `28°48'36"S 153°16'48"E`, elevation: "12", name: "Quoll Creek" });

  await go(page, "year");
  await page.getByText("Your own monthly averages").click();
  await page.getByLabel("Station and years").fill("invented station");
  await page.getByLabel("Paste twelve rows").fill(demo("normals.csv"));
  await page.getByRole("button", { name: "Use the rows" }).click();
  await go(page, "dawn");
  await page.getByText("Your bees, free days").click();
  await page.getByLabel("Bees", { exact: true }).selectOption("tetragonula_carbonaria");
  await page.getByText("Forecast", { exact: true }).click();
  await page.getByLabel("Paste what you copied").fill(demo("forecast.csv"));
  await page.getByRole("button", { name: "Read it" }).click();
  await page.getByRole("button", { name: "Use what was read" }).click();
  await page.evaluate(() => scrollTo({ top: 0 }));
  await keep("dawn");
  if (device === "phone") {
    await top(".ranked");
    await keep("mornings");
    await page.getByText("To a new place").click();
    await page.getByLabel("Which hive").fill("Kurrajong");
    await page.getByLabel("From here to there").fill("3");
    await page.getByRole("button", { name: "Reckon the dates" }).click();
    await page.locator(".view-plan .course").waitFor();
    await top(".course");
    await keep("move");
    await page.getByText("Remove this plan").click();
    await page.getByRole("button", { name: "Remove the plan and its records" }).click();
  }

  await go(page, "year");
  await page.evaluate(() => scrollTo({ top: 0 }));
  await keep("year");
  if (device === "phone") {
    await top(".months");
    await keep("months");
  }

  await go(page, "plan");
  await page.getByLabel("Name of the old colony").fill("Lantern");
  await page.getByLabel("Name of the new colony").fill("Candle");
  await page.getByLabel("Weight").fill("3.6");
  await page.getByLabel("Last divided").fill("19");
  await page.getByLabel("Strength").selectOption("strong");
  await page.getByRole("button", { name: "Make the plan" }).click();
  await page.locator(".task-list").waitFor();
  await page.evaluate(() => scrollTo({ top: 0 }));
  await keep("plan");
  await go(page, "tasks");
  await keep("tasks");
  await go(page, "plan");
  if (device === "phone") {
    await page.locator(".picture").evaluate((one) => one.scrollIntoView({ block: "start" }));
    await keep("picture");
    await page.getByText("Share by link or QR code").click();
    await page.locator(".qr svg").waitFor();
    await top(".share");
    await keep("share");
  }
  await end();
}
await host.stop();
