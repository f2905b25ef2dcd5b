// The pictures in a real browser.

import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";

import { launch, serve } from "./browser.js";

const folders = {
  demo: ["plan.svg", "year.svg"],
};

describe("the server", () => {
  let site;
  before(async () => {
    site = await serve(new URL("../../docs/demo/", import.meta.url), { "x-test": "yes" });
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

describe("in the browser", () => {
  let browser;
  let site;
  before(async () => {
    [browser, site] = await Promise.all([
      launch(),
      serve(new URL("../../docs/", import.meta.url)),
    ]);
  });
  after(() => Promise.all([browser?.close(), site?.close()]));

  for (const [folder, names] of Object.entries(folders)) {
    for (const name of names) {
      test(`${folder}/${name} opens as a picture`, async () => {
        const page = await browser.newPage({ viewport: { width: 360, height: 640 } });
        const problems = [];
        page.on("pageerror", (error) => problems.push(error.message));
        page.on("console", (message) => {
          // Browsers ask for an icon that no folder of pictures has.
          if (!message.location().url.endsWith("/favicon.ico")) problems.push(message.text());
        });
        await page.goto(`${site.origin}/${folder}/${name}`);
        const root = await page.evaluate(() => {
          const box = document.documentElement.getBoundingClientRect();
          return { name: document.documentElement.localName, width: box.width, height: box.height };
        });
        assert.equal(root.name, "svg");
        assert(root.width > 300 && root.height > 300, JSON.stringify(root));
        assert.deepEqual(problems, []);
        await page.close();
      });
    }
  }
});
