// Every vector through the JavaScript door.

import assert from "node:assert/strict";
import { mkdirSync, writeFileSync } from "node:fs";
import { after, describe, test } from "node:test";

import { ApiaryError, about, ask } from "apiary-almanac";

import { difference, load, parse, requestText } from "./vectors.js";

const ran = [];
after(() => {
  const folder = new URL("../../target/vectors-run/", import.meta.url);
  mkdirSync(folder, { recursive: true });
  writeFileSync(new URL("javascript.txt", folder), ran.map((id) => `${id}\n`).join(""));
});

for (const file of load()) {
  describe(file.name, () => {
    for (const row of file.rows) {
      test(row.id, () => {
        ran.push(`${file.name}/${row.id}`);
        if (row.expect_error) {
          assert.throws(() => ask(requestText(row)), (error) => {
            assert(error instanceof ApiaryError && error instanceof Error);
            assert.deepEqual({ code: error.code, field: error.field }, row.expect_error);
            assert(about().errorCodes.includes(error.code) && error.message.length > 10);
            return true;
          });
          return;
        }
        const whole = "expect" in row;
        const wanted = whole ? row.expect : row.expect_part;
        const given = JSON.parse(ask(requestText(row)));
        assert.equal(difference("answer", wanted, given, file.about.tolerance, whole), undefined);
      });
    }
  });
}

const good = {
  about: {
    what: "w",
    source: "s",
    licence: "l",
    tolerance: { number: 0.5, instant_s: 2 },
    rows: 1,
  },
  rows: [{ id: "a-1", request: { ask: "about" }, expect: { n: 1 } }],
};

test("the reader is strict", () => {
  assert.equal(parse("good", JSON.stringify(good)).rows.length, 1);
  const bad = [
    [{ ...good, extra: 1 }, /unknown field/],
    [{ ...good, about: { ...good.about, rows: 2 } }, /about says 2/],
    [{ ...good, about: { ...good.about, title: "t" } }, /unknown field/],
    [{ ...good, about: { ...good.about, tolerance: { number: 1 } } }, /no instant_s/],
    [{ ...good, rows: [{ ...good.rows[0], id: "A 1" }] }, /not an id/],
    [{ ...good, rows: [{ ...good.rows[0], remark: "r" }] }, /unknown field/],
    [{ ...good, rows: [{ ...good.rows[0], request_parts: [] }] }, /one of request/],
    [{ ...good, rows: [{ ...good.rows[0], expect_part: {} }] }, /one of expect/],
  ];
  for (const [file, why] of bad) assert.throws(() => parse("bad", JSON.stringify(file)), why);
});

test("the comparison is strict", () => {
  const tolerance = { number: 0.5, instant_s: 2 };
  const same = (wanted, given, whole = true) =>
    difference("answer", wanted, given, tolerance, whole) === undefined;
  assert(same({ n: 1, l: [1] }, { n: 1.5, l: [1] }));
  const different = [
    [{ n: 1 }, { n: 1.6 }],
    [{ n: 1 }, {}],
    [{ n: 1 }, { n: 1, m: 2 }],
    [{ n: 1 }, { n: "1" }],
    [{ n: 1 }, { n: null }],
    [{ n: 1 }, { n: true }],
    [[1, 2], [1]],
    ["2026-01-01", "2026-01-02"],
    ["2026-01-01T00:00:00Z", "2026-01-01T00:00:03Z"],
    ["2026-01-01T00:00:00Z", "2026-01-01T01:00:00+01:00"],
  ];
  for (const [wanted, given] of different) assert(!same(wanted, given), JSON.stringify(given));
  assert(same("2026-01-01T00:00:00Z", "2025-12-31T23:59:58.5Z"));
  assert(same("2026-01-01T00:00:00Z", "2026-01-01T00:00:01+00:00"));
  assert(same({ n: 1 }, { n: 1, m: 2 }, false));
});
