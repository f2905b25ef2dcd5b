// The pictures in a real browser, with its own fonts: at the width of a phone, on a desktop, in grey.

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { after, before, describe, test } from "node:test";

import { launch, serve } from "./browser.js";

const project = new URL("../../", import.meta.url);
const files = ["docs/demo", "core/tests/pictures"].flatMap((folder) =>
  readdirSync(new URL(folder, project))
    .filter((name) => name.endsWith(".svg"))
    .map((name) => `${folder}/${name}`),
);

describe("the server", () => {
  let site;
  before(async () => {
    site = await serve(new URL("docs/demo/", project), { "x-test": "yes" });
  });
  after(() => site.close());

  test("tells the kind of a file and adds headers", async () => {
    const answer = await fetch(`${site.origin}/year.svg`);
    assert.equal(answer.status, 200);
    assert.equal(answer.headers.get("content-type"), "image/svg+xml; charset=utf-8");
    assert.equal(answer.headers.get("x-test"), "yes");
  });

  test("gives nothing from outside its folder", async () => {
    for (const path of ["/..%2fmethods.md", "/%2e%2e/methods.md", "/none.svg", "/%00", "/%"]) {
      assert.equal((await fetch(site.origin + path)).status, 404, path);
    }
  });
});

/** Run in the page: words and colours of its picture as the browser drew them. */
function drawn() {
  const root = document.querySelector("svg");
  const { left, top, right, bottom } = root.getBoundingClientRect();
  const units = Number(root.getAttribute("viewBox").split(" ")[2]);
  const words = [...root.querySelectorAll("text")].map((text) => {
    const box = text.getBoundingClientRect();
    const size = Number(text.getAttribute("font-size")) * ((right - left) / units);
    // The box of a line is higher than its letters.
    return { text: text.textContent, left: box.left, right: box.right, size,
      top: box.bottom - 0.96 * size, bottom: box.bottom - 0.04 * size };
  });
  const strokes = [...root.querySelectorAll("[stroke]")].map((mark) => mark.getAttribute("stroke"));
  return { left, top, right, bottom, units, words, strokes: [...new Set(strokes)].sort() };
}

/** Relative luminance of WCAG 2.2. */
function luminance(colour) {
  const part = (from) => {
    const c = parseInt(colour.slice(from, from + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
}

describe("in the browser", () => {
  let browser;
  let site;
  before(async () => {
    [browser, site] = await Promise.all([launch(), serve(project)]);
  });
  after(() => Promise.all([browser?.close(), site?.close()]));

  test("there are pictures", () => assert(files.length > 10, `${files}`));

  for (const file of files) {
    test(`${file} can be read on a phone and on a desktop`, async () => {
      const page = await browser.newPage();
      const problems = [];
      page.on("pageerror", (error) => problems.push(error.message));
      page.on("console", (message) => problems.push(message.text()));
      const svg = readFileSync(new URL(file, project), "utf8");
      for (const width of [360, 1100]) {
        await page.setViewportSize({ width, height: 800 });
        await page.setContent(
          `<!doctype html><style>body{margin:0}svg{display:block;width:100%;height:auto}</style>${svg}`,
        );
        const { left, top, right, bottom, units, words } = await page.evaluate(drawn);
        assert.equal(right - left, width);
        for (const [i, one] of words.entries()) {
          // A poster of many hives or places is for paper: 10 points there.
          const onPaper = ((one.size / width) * units * 210 * 72) / 25.4 / units;
          assert(units > 360 ? onPaper >= 10 : one.size >= 10.49, `${one.text}: ${one.size} px`);
          assert(
            one.left >= left - 0.5 && one.right <= right + 0.5 && one.top >= top - 0.5 &&
              one.bottom <= bottom + 0.5,
            `${one.text} reaches over the edge at ${width} px`,
          );
          for (const other of words.slice(0, i)) {
            const over = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
            const beside = Math.min(one.right, other.right) - Math.max(one.left, other.left);
            assert(
              over <= 0.1 * one.size || beside <= 0.5,
              `${one.text} lies on ${other.text} at ${width} px`,
            );
          }
        }
      }
      assert.deepEqual(problems, []);
      await page.close();
    });

    test(`${file} needs no colour`, async () => {
      const page = await browser.newPage({ viewport: { width: 360, height: 640 } });
      await page.setContent(readFileSync(new URL(file, project), "utf8"));
      // Lines are told apart by dashes and areas by hatching: one ink, the hatching and the grid.
      const { strokes } = await page.evaluate(drawn);
      const light = strokes.map(luminance).sort((a, b) => a - b);
      assert(light.length <= 3 && (1.05) / (light[0] + 0.05) > 15, `${strokes}`);
      if (light.length > 1) assert(1.05 / (light.at(-2) + 0.05) >= 3, `${strokes}`);
      await page.close();
    });

    test(`${file} opens by itself, larger than a phone and no taller than it is`, async () => {
      const page = await browser.newPage({ viewport: { width: 1100, height: 700 } });
      await page.goto(`${site.origin}/${file}`);
      const root = await page.evaluate(() => {
        const { width, height } = document.documentElement.getBoundingClientRect();
        const [, , w, h] = document.documentElement.getAttribute("viewBox").split(" ").map(Number);
        return { name: document.documentElement.localName, width, height, shape: h / w };
      });
      assert.equal(root.name, "svg");
      // A poster has the size of its sheet: 210 mm of 96 pixels an inch.
      const wide = file.includes("poster") ? (210 / 25.4) * 96 : 512;
      assert(Math.abs(root.width - wide) < 0.1, `${root.width}`);
      assert(Math.abs(root.height / root.width - root.shape) < 0.01, JSON.stringify(root));
      await page.close();
    });
  }
});
