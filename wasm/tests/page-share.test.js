// From one phone to another by a link and by its QR code, without a server between them.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import jsQR from "jsqr";

import { audit, enterPlace, go, makePlan, noon, start, visit, yard } from "./page.js";

let host;
before(async () => (host = await start()));
after(() => host.stop());

test("a plan goes to another phone by its QR code", async () => {
  const one = await visit(host, { now: noon });
  await enterPlace(one.page, yard);
  await makePlan(one.page);
  await one.page.getByText("Share by link or QR code").click();
  await one.page.locator(".share").getByText("holds the coordinates of the hives").waitFor();
  const link = await one.page.getByLabel("Link", { exact: true }).inputValue();
  // A reader of another make reads it off the picture.
  const svg = one.page.locator(".qr svg");
  await svg.waitFor();
  const { width, pixels } = await svg.evaluate(async (shown) => {
    const side = shown.viewBox.baseVal.width * 4;
    const copy = shown.cloneNode(true);
    const canvas = new OffscreenCanvas(side, side);
    const context = canvas.getContext("2d");
    context.fillStyle = "#fff";
    context.fillRect(0, 0, side, side);
    context.fillStyle = "#000";
    context.setTransform(4, 0, 0, 4, 16, 16);
    context.fill(new Path2D(copy.querySelector("path").getAttribute("d")));
    return { width: side, pixels: [...context.getImageData(0, 0, side, side).data] };
  });
  assert.equal(jsQR(Uint8ClampedArray.from(pixels), width, width).data, link);
  assert.deepEqual(await audit(one.page), []);
  const tasks = await one.page.locator(".task-title").allInnerTexts();
  await one.end();

  const other = await visit(host, { now: noon, opened: false });
  await other.page.goto(link);
  await other.page.getByRole("heading", { name: "Shared with you" }).waitFor();
  await other.page.getByText("Quoll Creek, 28.81° S").waitFor();
  assert.match(await other.page.locator("main").innerText(), /Quoll Creek, 28\.81° S, 153\.28° E\s+Lantern \+ Candle/);
  assert.equal(new URL(other.page.url()).hash, "", "the coordinates do not stay in the address");
  assert.deepEqual(await audit(other.page), []);
  await other.page.getByRole("button", { name: "Take it over" }).click();
  await other.page.locator(".task-list").waitFor();
  assert.deepEqual(await other.page.locator(".task-title").allInnerTexts(), tasks);
  await go(other.page, "dawn");
  await other.page.locator(".steps").waitFor();
  // A link that was cut off says so.
  await other.page.goto(`${link.slice(0, 200)}`);
  await other.page.getByText("This link holds nothing that can be read here").waitFor();
  await other.page.getByRole("button", { name: "Leave it" }).click();
  await other.page.locator(".steps").waitFor();
  await other.end();
});
