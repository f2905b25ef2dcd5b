// How the page starts: with a slow network, with none, in a new version, and what a first visit costs.

import assert from "node:assert/strict";
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";

import { counting, summary } from "./first-visit.js";
import { enterPlace, go, makePlan, noon, start, views, visit, yard } from "./page.js";

let host;
before(async () => (host = await start()));
after(() => host.stop());

test("odd addresses show a view", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  for (const odd of ["constructor", "__proto__", "toString", "%00", "nowhere"]) {
    await page.evaluate((hash) => { location.hash = hash; }, odd);
    await page.locator(".view-dawn h1").waitFor();
  }
  await end();
});

test("loaded once, it starts and works without a network", async () => {
  const { page, context, problems, end } = await visit(host, { now: noon, worker: "allow" });
  await page.getByLabel("Keep what I enter").check();
  await enterPlace(page, yard);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await context.setOffline(true);
  await page.reload();
  await page.locator(".steps").waitFor();
  await assert.rejects(page.evaluate(() => fetch("./not-kept.txt").then((answer) => assert(answer.ok))));
  await makePlan(page);
  for (const view of views) {
    await go(page, view);
    assert((await page.locator(`.view-${view}`).innerText()).length > 100, view);
  }
  await go(page, "place");
  await page.getByRole("button", { name: "Another place" }).click();
  await enterPlace(page, { coordinates: "-3.1, -60.0", elevation: "60", name: "Upriver" });
  assert.match(await page.locator("h1").innerText(), /morning/);
  await context.setOffline(false);
  // The one thing that went wrong is the address above that is not kept.
  assert(problems.splice(0).every((problem) => /ERR_(FAILED|INTERNET_DISCONNECTED)/.test(problem)));
  await end();
});


test("a first visit loads each file once, and little beside the engine", async (t) => {
  const server = await counting(host.folder);
  t.after(() => server.close());
  const context = await host.browser.newContext({ viewport: { width: 360, height: 740 } });
  const page = await context.newPage();
  await page.goto(`${server.origin}/page/`);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await enterPlace(page, yard);
  await page.locator(".steps").waitFor();
  const { twice, bytes, engineBytes, files } = summary(server.sent);
  assert.deepEqual(twice, []);
  assert(files > 10, `${files} files`);
  // A tripwire, not a goal: docs/page.md.
  assert(bytes - engineBytes <= 160_000, `${bytes} bytes, ${engineBytes} of them the engine`);
  await context.close();
});

test("the form is there before the engine, and the answer as soon as it is", async () => {
  const { page, context, end } = await visit(host, { now: noon, opened: false });
  let letGo;
  const held = new Promise((go) => (letGo = go));
  await context.route("**/*.wasm", async (route) => {
    await held;
    await route.continue();
  });
  await page.goto(host.address);
  await page.locator("progress").waitFor();
  await enterPlace(page, yard);
  await page.getByText("The answer comes as soon as").waitFor();
  assert.equal(await page.locator("h1").innerText(), "Where do the hives stand?");
  // Another view says what it waits for.
  await page.locator('nav a[href="#year"]').click();
  assert.equal(await page.locator("h1").innerText(), "Year");
  await page.locator('nav a[href="#place"]').click();
  await enterPlace(page, yard);
  letGo();
  await page.locator(".steps").waitFor();
  assert.equal(await page.locator("progress").count(), 0);
  await end();
});

test("a town is looked up as soon as the engine is there", async () => {
  const { page, context, end } = await visit(host, { now: noon, opened: false });
  let letGo;
  const held = new Promise((go) => (letGo = go));
  await context.route("**/*.wasm", async (route) => {
    await held;
    await route.continue();
  });
  await page.goto(host.address);
  await page.getByLabel("Town or coordinates").fill("Maryborough, Queensland");
  await page.getByRole("button", { name: "Use this place" }).click();
  await page.getByText("The answer comes as soon as").waitFor();
  letGo();
  await page.locator(".steps").waitFor();
  await end();
});

test("an engine that does not come is said to, and asked for again", async () => {
  const { page, context, problems, end } = await visit(host, { now: noon, opened: false });
  await context.route("**/*.wasm", (route) => route.abort());
  await page.goto(host.address);
  const again = page.getByRole("button", { name: "Try again" });
  await again.waitFor();
  await enterPlace(page, yard);
  await again.click();
  await page.getByText("could not be fetched").waitFor();
  await context.unroute("**/*.wasm");
  await again.click();
  await page.locator(".steps").waitFor();
  assert.match(await page.locator(".place-switch").innerText(), /Quoll Creek/);

  // Nor is anything lost of what was there before.
  await makePlan(page);
  await context.route("**/*.wasm", (route) => route.fulfill({ status: 503, body: "later" }));
  await page.reload();
  await again.waitFor();
  await context.unroute("**/*.wasm");
  await again.click();
  await page.locator(".task-list").waitFor();
  assert(problems.splice(0).every((problem) => /ERR_FAILED|503/.test(problem)));
  await end();
});

test("where the scripts do not come, the page says so by itself", async () => {
  for (const part of ["**/main-*.js", "**/page-*.css"]) {
    const { page, context, problems, end } = await visit(host, { now: noon, opened: false });
    await context.route(part, (route) => route.abort());
    await page.goto(host.address);
    if (part.endsWith(".css")) {
      // Without its style the page works.
      await page.locator("h1").waitFor();
    } else {
      await page.getByText("could not be fetched").waitFor();
      await context.unroute(part);
      await page.getByRole("link", { name: "Try again" }).click();
      await page.locator("h1").waitFor();
    }
    assert(problems.splice(0).every((problem) => /ERR_FAILED/.test(problem)));
    await end();
  }
});

/** A newer version of the page in its folder; gives back how to undo it. */
function deploy(change) {
  const worker = join(host.folder, "sw.js");
  const before = readFileSync(worker, "utf8");
  writeFileSync(worker, change(before));
  return () => writeFileSync(worker, before);
}
const newer = (id) => (worker) => worker.replace(/(const version = ")[0-9a-f]+/, `$1${id}`);
const versions = (page) => page.evaluate(async () => (await caches.keys()).map((name) => name.split(" ").at(-1)));
const controlled = async (page) => {
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
};

test("a new version is offered, and used when it is wanted", async () => {
  const { page, end } = await visit(host, { now: noon, worker: "allow" });
  await controlled(page);
  const [first] = await versions(page);
  const use = page.getByRole("button", { name: "Use it now" });
  for (const [id, before] of [["00000000000000ff", [first]], ["00000000000000ee", [first, "00000000000000ff"]]]) {
    const undo = deploy(newer(id));
    try {
      await page.reload();
      await use.waitFor();
      assert.deepEqual((await versions(page)).sort(), [id, ...before].sort(), "the old one is used until then");
      await Promise.all([page.waitForEvent("load"), use.click()]);
      await page.locator("h1").waitFor();
      // The one before stays for tabs that still run it.
      await page.waitForFunction(async () => (await caches.keys()).length === 2);
      assert.deepEqual((await versions(page)).sort(), [id, before.at(-1)].sort());
    } finally {
      undo();
    }
  }
  await end();
});

test("a new version keeps a plan that is kept nowhere, and so does a reload", async () => {
  const { page, end } = await visit(host, { now: noon, worker: "allow" });
  await controlled(page);
  await enterPlace(page, yard);
  await makePlan(page);
  await page.reload();
  await page.locator(".task-list").waitFor();
  const undo = deploy(newer("00000000000000ff"));
  try {
    await page.reload();
    const use = page.getByRole("button", { name: "Use it now" });
    await use.waitFor();
    await Promise.all([page.waitForEvent("load"), use.click()]);
    await page.locator(".task-list").waitFor();
    assert.equal(await page.locator("h1").innerText(), "Lantern and Candle · Split");
    assert.equal(await page.evaluate(() => localStorage.length), 0);
  } finally {
    undo();
  }
  await end();
});

test("half a new version is none", async () => {
  const { page, context, problems, end } = await visit(host, { now: noon, worker: "allow" });
  await controlled(page);
  const [first] = await versions(page);
  // Its list is there already, a file that it names is not yet what it should be.
  const undo = deploy((worker) => newer("00000000000000ff")(worker).replace(/("\.\/manifest\.webmanifest": ")[0-9a-f]{8}/, "$100000000"));
  try {
    const end = await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.getRegistration();
      await registration.update();
      const worker = registration.installing ?? registration.waiting;
      while (!["installed", "redundant"].includes(worker.state)) await new Promise((done) => worker.addEventListener("statechange", done, { once: true }));
      return worker.state;
    });
    assert.equal(end, "redundant");
    assert.deepEqual(await versions(page), [first]);
    await context.setOffline(true);
    await page.reload();
    await page.locator("h1").waitFor();
    await context.setOffline(false);
    assert.equal(await page.getByRole("button", { name: "Use it now" }).count(), 0);
  } finally {
    undo();
  }
  problems.splice(0); // The browser tells of the failed update.
  await end();
});

test("two tabs never mix two versions", async () => {
  const { page, context, problems, end } = await visit(host, { now: noon, worker: "allow" });
  await controlled(page);
  const other = await context.newPage();
  await other.goto(host.address);
  await other.locator("h1").waitFor();
  await page.reload();
  const zones = /"\.\/(zone-lookup-[0-9A-Z]{8}\.js)": "[0-9a-f]+",?\n/.exec(readFileSync(join(host.folder, "sw.js"), "utf8"));
  const path = join(host.folder, zones[1]);
  const part = readFileSync(path);
  // In the new version the map of zones has another name, and the old one is gone.
  const undo = deploy((worker) => newer("00000000000000ff")(worker).replace(zones[0], ""));
  rmSync(path);
  try {
    await page.reload();
    const use = page.getByRole("button", { name: "Use it now" });
    await use.waitFor();
    await Promise.all([page.waitForEvent("load"), use.click()]);
    await page.locator("h1").waitFor();
    await other.getByText("Another tab uses a newer version").waitFor();
    // The tab that was not asked goes on with what belongs to it.
    await other.getByLabel("Town or coordinates").fill("-28.81, 153.28");
    await other.getByRole("button", { name: "Use this place" }).click();
    await other.locator(".steps").waitFor();
  } finally {
    undo();
    writeFileSync(path, part);
  }
  problems.splice(0);
  await end();
});

test("the offline copy answers for its own folder alone", async () => {
  const { page, context, end } = await visit(host, { now: noon, worker: "allow" });
  await controlled(page);
  mkdirSync(join(host.folder, "club"), { recursive: true });
  writeFileSync(join(host.folder, "club/index.html"), "<!doctype html><title>Club</title><h1>The club's own page</h1>");
  try {
    const other = await context.newPage();
    await other.goto(`${host.address}club/`);
    assert.equal(await other.locator("h1").innerText(), "The club's own page");
    await other.goto(`${host.address}index.html?from=club`);
    await other.locator("form").waitFor();
  } finally {
    rmSync(join(host.folder, "club"), { recursive: true });
  }
  await end();
});
