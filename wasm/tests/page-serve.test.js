// The one command that builds and serves the page.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { request } from "node:http";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

const command = fileURLToPath(new URL("../page/serve", import.meta.url));

/** An answer to a path that is sent as it stands; fetch would tidy it first. */
const get = (port, path) =>
  new Promise((done, failed) => {
    request({ host: "127.0.0.1", port, path }, (answer) => {
      const parts = [];
      answer.on("data", (part) => parts.push(part));
      answer.on("end", () => done({ status: answer.statusCode, type: answer.headers["content-type"], cache: answer.headers["cache-control"], body: Buffer.concat(parts) }));
    })
      .on("error", failed)
      .end();
  });

test("wasm/page/serve serves the page on this machine, and nothing beside it", async () => {
  const server = spawn(process.execPath, [command, "0"], { stdio: ["ignore", "pipe", "inherit"] });
  try {
    const port = await new Promise((done, failed) => {
      let said = "";
      server.stdout.on("data", (part) => {
        said += part;
        const found = /http:\/\/127\.0\.0\.1:(\d+)\//.exec(said);
        if (found) done(Number(found[1]));
      });
      server.on("exit", (code) => failed(new Error(`ended with ${code}: ${said}`)));
    });
    const index = await get(port, "/");
    assert.equal(index.status, 200);
    const text = index.body.toString();
    const [, wasm] = /data-engine="\.(\/engine-[0-9A-Z]{8}\.wasm)"/.exec(text);
    const [, style] = /href="\.(\/page-[0-9A-Z]{8}\.css)"/.exec(text);
    const wanted = {
      "/sw.js": "text/javascript; charset=utf-8",
      "/manifest.webmanifest": "application/manifest+json",
      [wasm]: "application/wasm",
      "/icons/icon-192.png": "image/png",
      [style]: "text/css; charset=utf-8",
    };
    for (const [path, type] of Object.entries(wanted)) {
      const { status, type: given, cache } = await get(port, path);
      assert.deepEqual([status, given], [200, type], path);
      // What is named by its content may be kept for good; a new version of all else is asked for.
      assert.equal(cache, [wasm, style].includes(path) ? "max-age=31536000, immutable" : "no-cache", path);
    }
    for (const path of ["/../../README.md", "/%2e%2e/%2e%2e/README.md", "/..%2f..%2fREADME.md", "/nothing", "/style", "/%00", "/%"]) {
      assert.notEqual((await get(port, path)).status, 200, path);
    }

    // Every file that the service worker wants to keep is there as it wants it, else it would not start.
    const worker = (await get(port, "/sw.js")).body.toString();
    const files = Object.entries(JSON.parse(/const files = (\{[^}]*\})/.exec(worker)[1]));
    assert(files.length > 10);
    for (const [file, hash] of files) {
      const { status, body } = await get(port, file.slice(1));
      assert.deepEqual([status, createHash("sha256").update(body).digest("hex")], [200, hash], file);
    }
    const names = files.map(([file]) => file);
    for (const [, named] of text.matchAll(/(?:src|href|data-engine)="(\.\/[^"]+)"/g)) assert(names.includes(named), named);
    assert.match(/const version = "([0-9a-f]+)"/.exec(worker)[1], /^[0-9a-f]{16}$/);

    // The manifest's icons are there, and what it is opened with.
    const manifest = JSON.parse((await get(port, "/manifest.webmanifest")).body.toString());
    for (const { src } of [...manifest.icons, { src: manifest.start_url }]) assert.equal((await get(port, src.slice(1))).status, 200, src);
  } finally {
    server.kill();
  }
});

test("a wrong port is refused with what is allowed", async () => {
  const server = spawn(process.execPath, [command, "99999"], { stdio: ["ignore", "ignore", "pipe"] });
  let said = "";
  server.stderr.on("data", (part) => (said += part));
  const code = await new Promise((done) => server.on("close", done));
  assert.equal(code, 2);
  assert.match(said, /"99999" is no port; allowed is 0 to 65535/);
});

test("the policy names no place but the page's own", () => {
  const html = readFileSync(new URL("../page/src/index.html", import.meta.url), "utf8");
  const policy = /Content-Security-Policy" content="([^"]+)"/.exec(html)[1];
  assert.match(policy, /^default-src 'none';/);
  assert.doesNotMatch(policy, /unsafe-inline|'unsafe-eval'|https?:|\*/);
  assert.doesNotMatch(html, / style=| on\w+=|<style|<script(?![^>]* src=)/);
});
