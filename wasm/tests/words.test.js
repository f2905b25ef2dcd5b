// The words of the page: each number that a keeper can set is named for people.

import assert from "node:assert/strict";
import { test } from "node:test";

import { about, bee, parameters, plan } from "apiary-almanac";

import { text } from "../page/src/text/en.js";

const snake = (name) => name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };

test("every number that can be set has a name in words", () => {
  const ofPlans = parameters().filter(({ group, number }) => ["morning", "plan", "relocation", "parting"].includes(group) && number.lowest < number.highest);
  const names = ofPlans.map(({ name }) => name.replace(/\.likely$/, "")).filter((name) => !/^far_stay|earliest$|latest$/.test(name));
  for (const one of about().bees) {
    for (const [name, value] of Object.entries(bee(one))) if (value?.unit !== undefined) names.push(snake(name));
  }
  assert(names.length > 50);
  assert.deepEqual([...new Set(names)].filter((name) => !(name in text.numbers)), []);
});

test("the numbers of a plan that are offered are those that the engine takes", () => {
  const ask = (settings) => plan({ site, today: "2026-09-13", method: "split", colony: { name: "Lantern" }, settings });
  for (const { name, number } of parameters().filter(({ group }) => group === "plan")) {
    const key = name.replace(/_([a-z])/g, (_, letter) => letter.toUpperCase());
    if (number.lowest < number.highest) ask({ [key]: number.value });
    else assert.throws(() => ask({ [key]: number.value }), (error) => error.code === "unreadable", name);
  }
});
