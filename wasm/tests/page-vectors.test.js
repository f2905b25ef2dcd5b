// Every vector through the JavaScript door in a real browser, under the page's own policy.

import assert from "node:assert/strict";
import { mkdirSync, writeFileSync } from "node:fs";
import { after, before, describe, test } from "node:test";

import { start, visit } from "./page.js";
import { difference, load } from "./vectors.js";

let host, guest;
const ran = [];
before(async () => {
  host = await start({ source: true });
  guest = await visit(host);
});
after(async () => {
  const folder = new URL("../../target/vectors-run/", import.meta.url);
  mkdirSync(folder, { recursive: true });
  writeFileSync(new URL("browser.txt", folder), ran.map((id) => `${id}\n`).join(""));
  await guest.end();
  await host.stop();
});

/** The answer or the error of a request that is put together in the browser. */
const answer = ({ request, request_parts: parts }) =>
  guest.page.evaluate(
    async ({ request, parts }) => {
      const almanac = await import(new URL("./apiary-almanac/auto.js", location.href).href);
      const text = parts ? parts.map(({ text, times }) => text.repeat(times)).join("") : JSON.stringify(request);
      try {
        return { given: JSON.parse(almanac.ask(text)) };
      } catch (error) {
        return {
          error: { code: error.code, field: error.field },
          real: error instanceof almanac.ApiaryError && error instanceof Error,
          known: almanac.about().errorCodes.includes(error.code),
          message: error.message,
        };
      }
    },
    { request, parts },
  );

for (const file of load()) {
  describe(file.name, () => {
    for (const row of file.rows) {
      test(row.id, async () => {
        ran.push(`${file.name}/${row.id}`);
        const { given, error, real, known, message } = await answer(row);
        if (row.expect_error) {
          assert.deepEqual(error, row.expect_error);
          assert(real && known && message.length > 10, message);
          return;
        }
        assert.equal(error, undefined, message);
        const whole = "expect" in row;
        assert.equal(difference("answer", whole ? row.expect : row.expect_part, given, file.about.tolerance, whole), undefined);
      });
    }
  });
}
