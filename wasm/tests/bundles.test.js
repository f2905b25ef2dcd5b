// The packed package as others take it in: by its entries, through bundlers for browser and server, in
// other runtimes, and at the edge.

import assert from "node:assert/strict";
import { execFile, execFileSync, spawn } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, describe, test } from "node:test";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";

import * as esbuild from "esbuild";
import * as vite from "vite";
import webpack from "webpack";

import { launch, serve } from "./browser.js";

const here = fileURLToPath(new URL(".", import.meta.url));
const packed = join(here, "node_modules/apiary-almanac");
const run = promisify(execFile);

const site = `{ latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" }`;
// Clocks in New South Wales go forward that night (IANA time zone database): 23 hours.
const question = `civilDay({ site: ${site}, date: "2026-10-04" }).dayLengthH + " hours"`;
const answer = "23 hours";

/** Apps by how they start the engine; `tell` is what they do with the answer. */
const apps = {
  /** Nothing but a question: where files can be read at once. */
  plain: (tell) => `import { civilDay } from "apiary-almanac";\n${tell(question)};\n`,
  waiting: (tell) => `import { civilDay, init } from "apiary-almanac";\ninit().then(() => ${tell(question)});\n`,
  auto: (tell) => `import { civilDay } from "apiary-almanac/auto";\n${tell(question)};\n`,
  inline: (tell) => `import { civilDay, init } from "apiary-almanac/inline";\ninit().then(() => ${tell(question)});\n`,
  /** The engine's file by the bundler's own means. */
  file: (tell) => `import engine from "apiary-almanac/wasm";\nimport { civilDay, init } from "apiary-almanac";\ninit(engine).then(() => ${tell(question)});\n`,
};
const print = (question) => `console.log(${question})`;
const show = (question) => `document.body.append(${question})`;

let scratch;
let browser;
before(async () => {
  const target = fileURLToPath(new URL("../../target", import.meta.url));
  mkdirSync(target, { recursive: true });
  scratch = mkdtempSync(join(target, "bundles-"));
  browser = await launch();
});
after(async () => {
  await browser?.close();
  if (scratch) rmSync(scratch, { recursive: true, force: true });
});

/** A folder with an app in it, and the package beside. */
function folder(app, tell) {
  const made = mkdtempSync(join(scratch, "app-"));
  symlinkSync(join(here, "node_modules"), join(made, "node_modules"));
  writeFileSync(join(made, "package.json"), '{ "private": true, "type": "module" }');
  writeFileSync(join(made, "app.js"), app(tell));
  return made;
}

/** What a program prints, away from the package: a bundle has to stand on its own. */
async function printed(made, name) {
  const away = mkdtempSync(join(scratch, "away-"));
  cpSync(join(made, "dist"), away, { recursive: true });
  const { stdout } = await run(process.execPath, [join(away, name)], { cwd: away });
  return stdout.trim();
}

/** What a page with the bundle shows. */
async function shown(made, script) {
  writeFileSync(join(made, "dist/index.html"), `<!doctype html><title>App</title><link rel="icon" href="data:,"><body>${script}</body>`);
  const server = await serve(join(made, "dist"));
  const page = await browser.newPage();
  try {
    const errors = [];
    page.on("pageerror", (error) => errors.push(String(error)));
    page.on("response", (response) => { if (response.status() >= 400) errors.push(`${response.status()} ${response.url()}`); });
    await page.goto(`${server.origin}/`);
    await page.waitForFunction(() => document.body.textContent.trim() !== "", undefined, { timeout: 20_000 }).catch((error) => assert.fail(`${error.message}; ${errors.join("; ")}`));
    assert.deepEqual(errors, []);
    return (await page.textContent("body")).trim();
  } finally {
    await page.close();
    await server.close();
  }
}

const esm = '<script type="module" src="./app.js"></script>';
const classic = '<script defer src="./app.js"></script>';

describe("entries", () => {
  const node = async (source, type = "module") => {
    const { stdout } = await run(process.execPath, [`--input-type=${type}`, "--disable-warning=ExperimentalWarning", "--eval", source], { cwd: here });
    return stdout.trim();
  };
  for (const name of ["plain", "waiting", "auto", "inline"]) {
    test(`${name} in node`, async () => assert.equal(await node(apps[name](print)), answer));
  }
  test("by require, where node reads modules so", async () => {
    const can = Boolean(process.features.require_module);
    if (!can) return assert.match(process.version, /^v20\./);
    assert.equal(await node(`const { civilDay } = require("apiary-almanac"); ${print(question)}`, "commonjs"), answer);
  });
  test("init takes an address, bytes, a module and an answer of a server, and starts once", async () => {
    const file = `new URL(${JSON.stringify(new URL("node_modules/apiary-almanac/engine_bg.wasm", import.meta.url).href)})`;
    const bytes = `(await import("node:fs")).readFileSync(${file})`;
    for (const source of [
      file,
      `${file}.href`,
      bytes,
      `new WebAssembly.Module(${bytes})`,
      `Promise.resolve(${bytes})`,
      `new Response(${bytes}, { headers: { "content-type": "application/wasm" } })`,
    ]) {
      const app = `import { about, init } from "apiary-almanac"; await Promise.all([init(${source}), init(${source})]); await init("http://127.0.0.1:9/never-asked"); console.log(about().name)`;
      assert.equal(await node(app), "apiary-almanac", source);
    }
  });
  test("a start that fails can be tried again", async () => {
    const app = `import { about, init } from "apiary-almanac/inline";
      await init(new Uint8Array(8)).then(() => console.log("started"), (error) => console.log(error.name));
      await init(5).then(() => console.log("started"), (error) => console.log(error.message));
      await init(); console.log(about().name)`;
    assert.deepEqual((await node(app)).split("\n"), ["CompileError", "init cannot start from a value of type number; allowed are a URL, a Response, bytes and a WebAssembly.Module", "apiary-almanac"]);
  });
  test("a question before the start says what to do", async () => {
    const app = `process.getBuiltinModule = undefined; const { about } = await import("apiary-almanac");
      try { about() } catch (error) { console.log(error.message) }`;
    assert.match(await node(app), /await init\(\)/);
  });
});

describe("esbuild", () => {
  const build = (made, more) =>
    esbuild.build({ entryPoints: [join(made, "app.js")], bundle: true, outdir: join(made, "dist"), logLevel: "silent", ...more });
  const binary = { loader: { ".wasm": "binary" } };
  for (const format of ["esm", "cjs"]) {
    for (const [name, more] of [["inline", {}], ["file", binary]]) {
      test(`for a server, ${format}, ${name}`, async () => {
        const made = folder(apps[name], print);
        const end = format === "cjs" ? ".cjs" : ".mjs";
        await build(made, { format, platform: "node", target: "node20", outExtension: { ".js": end }, ...more });
        assert.equal(await printed(made, `app${end}`), answer);
      });
    }
  }
  for (const format of ["esm", "iife"]) {
    for (const [name, more] of [["inline", {}], ["file", binary], ["file", { loader: { ".wasm": "file" } }]]) {
      test(`for a browser, ${format}, ${name} ${Object.values(more.loader ?? {})}`, async () => {
        const made = folder(apps[name], show);
        await build(made, { format, target: "es2022", ...more });
        assert.equal(await shown(made, format === "esm" ? esm : classic), answer);
      });
    }
  }
});

describe("webpack", () => {
  const build = async (made, more) => {
    const stats = await promisify(webpack)({ mode: "production", context: made, entry: "./app.js", performance: false, output: { path: join(made, "dist"), filename: "app.js" }, ...more });
    assert.equal(stats.hasErrors(), false, stats.toString());
  };
  for (const name of ["waiting", "auto", "inline"]) {
    test(`for a browser, ${name}`, async () => {
      const made = folder(apps[name], show);
      await build(made);
      // The engine is a file of its own, as it stands in the package, or within the bundle.
      const engines = readdirSync(join(made, "dist")).filter((file) => file.endsWith(".wasm"));
      assert.equal(engines.length, name === "inline" ? 0 : 1);
      for (const file of engines) assert(readFileSync(join(made, "dist", file)).equals(readFileSync(join(packed, "engine_bg.wasm"))));
      assert.equal(await shown(made, classic), answer);
    });
  }
  for (const name of ["plain", "waiting", "inline"]) {
    test(`for a server, ${name}`, async () => {
      const made = folder(apps[name], print);
      await build(made, { target: "node20", output: { path: join(made, "dist"), filename: "app.cjs" } });
      assert.equal(await printed(made, "app.cjs"), answer);
    });
  }
});

describe("Vite", () => {
  const config = (made, more) => ({ root: made, configFile: false, logLevel: "error", cacheDir: join(made, "cache"), ...more });
  const index = (made) => writeFileSync(join(made, "index.html"), `<!doctype html><title>App</title><link rel="icon" href="data:,"><body><script type="module" src="/app.js"></script></body>`);
  for (const name of ["waiting", "auto", "inline"]) {
    test(`built for a browser, ${name}`, async () => {
      const made = folder(apps[name], show);
      index(made);
      await vite.build(config(made, { build: { outDir: join(made, "dist"), emptyOutDir: true } }));
      const files = readdirSync(join(made, "dist/assets"));
      assert.equal(files.filter((file) => file.endsWith(".wasm")).length, name === "inline" ? 0 : 1, files.join(", "));
      assert.equal(await shown(made, `<script type="module" src="./assets/${files.find((file) => file.endsWith(".js"))}"></script>`), answer);
    });
  }
  test("from its development server", async () => {
    const made = folder(apps.waiting, show);
    index(made);
    const server = await vite.createServer(config(made, { // The package lies behind a link here, outside of the app.
      server: { host: "127.0.0.1", port: 0, hmr: false, fs: { allow: [made, here] } } }));
    try {
      await server.listen();
      const page = await browser.newPage();
      await page.goto(`http://127.0.0.1:${server.httpServer.address().port}/`);
      await page.waitForFunction((text) => document.body.textContent.trim() === text, answer, { timeout: 20_000 });
      await page.close();
    } finally {
      await server.close();
    }
  });
  test("built for a server that stands alone", async () => {
    const made = folder(apps.inline, print);
    await vite.build(config(made, { ssr: { noExternal: true }, build: { ssr: join(made, "app.js"), outDir: join(made, "dist") } }));
    assert.equal(await printed(made, readdirSync(join(made, "dist")).find((file) => /^app\.m?js$/.test(file))), answer);
  });
});

// What the registry offers as programs for this machine; elsewhere these are left out, and said to be.
const program = (name) => {
  const path = join(here, "node_modules/.bin", name);
  try {
    execFileSync(path, ["--version"]);
    return path;
  } catch {
    return undefined;
  }
};

describe("other runtimes", () => {
  for (const [name, before] of [["deno", ["run", "--allow-read", "--no-lock"]], ["bun", []]]) {
    const path = program(name);
    for (const app of ["plain", "waiting", "auto", "inline"]) {
      test(`${app} in ${name}`, { skip: path ? false : `${name} is not offered for this machine` }, async () => {
        const made = folder(apps[app], print);
        const { stdout } = await run(path, [...before, join(made, "app.js")], { cwd: made, env: { ...process.env, DENO_NO_UPDATE_CHECK: "1" } });
        assert.equal(stdout.trim(), answer);
      });
    }
  }
  const bun = program("bun");
  test("bundled by bun", { skip: bun ? false : "bun is not offered for this machine" }, async () => {
    const made = folder(apps.inline, print);
    await run(bun, ["build", join(made, "app.js"), "--target=node", "--outdir", join(made, "dist")], { cwd: made });
    writeFileSync(join(made, "dist/package.json"), '{ "type": "module" }');
    assert.equal(await printed(made, "app.js"), answer);
  });
});

const workerd = program("workerd");
test("in a worker at the edge", { skip: workerd ? false : "workerd is not offered for this machine" }, async () => {
  const made = folder(() => `import { civilDay } from "apiary-almanac";\nexport default { fetch: () => new Response(${question}) };\n`);
  await esbuild.build({
    entryPoints: [join(made, "app.js")], bundle: true, outdir: join(made, "dist"), format: "esm",
    conditions: ["workerd"], external: ["*.wasm"], logLevel: "silent",
  });
  cpSync(join(packed, "engine_bg.wasm"), join(made, "dist/engine_bg.wasm"));
  writeFileSync(
    join(made, "dist/config.capnp"),
    `using Workerd = import "/workerd/workerd.capnp";
const config :Workerd.Config = (
  services = [(name = "app", worker = (
    compatibilityDate = "2025-01-01",
    modules = [(name = "app.js", esModule = embed "app.js"), (name = "engine_bg.wasm", wasm = embed "engine_bg.wasm")]
  ))],
  sockets = [(name = "http", address = "127.0.0.1:0", http = (), service = "app")]
);
`,
  );
  const server = spawn(workerd, ["serve", "config.capnp", "--control-fd=3"], { cwd: join(made, "dist"), stdio: ["ignore", "ignore", "pipe", "pipe"] });
  try {
    let said = "";
    server.stderr.on("data", (part) => (said += part));
    const port = await new Promise((done, failed) => {
      server.on("exit", (code) => failed(new Error(`workerd ended with ${code}: ${said}`)));
      server.stdio[3].on("data", (part) => {
        const event = /"port":(\d+)/.exec(String(part));
        if (event) done(Number(event[1]));
      });
    });
    assert.equal(await (await fetch(`http://127.0.0.1:${port}/`)).text(), answer);
  } finally {
    server.kill();
  }
});
