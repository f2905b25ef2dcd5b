// A real browser for the tests: where it is, how it is started, and a server for it to read from.

import { accessSync, constants } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { createServer } from "node:http";
import { delimiter, extname, join, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";

import { chromium } from "playwright-core";
import puppeteer from "puppeteer-core";

const flags = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

const types = {
  ".css": "text/css; charset=utf-8",
  ".csv": "text/csv; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".ico": "image/x-icon",
  ".ics": "text/calendar; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".mjs": "text/javascript; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml; charset=utf-8",
  ".toml": "application/toml; charset=utf-8",
  ".txt": "text/plain; charset=utf-8",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json; charset=utf-8",
};

function isProgram(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The program that a variable names, or else the first of these that is there, whole paths or names of programs. */
function program(variable, candidates) {
  const named = process.env[variable];
  if (named && !isProgram(named)) throw new Error(`${variable} names ${named}, which is no program`);
  const folders = (process.env.PATH ?? "").split(delimiter).filter(Boolean);
  return named || candidates.flatMap((one) => (one.includes("/") ? one : folders.map((folder) => join(folder, one)))).find(isProgram);
}

/** The path of the browser: `CHROMIUM`, Debian's chromium, or a google-chrome on the path. */
export function executable() {
  const path = program("CHROMIUM", ["/usr/bin/chromium", "google-chrome"]);
  if (path) return path;
  throw new Error("no browser: install chromium, or give its path in CHROMIUM");
}

/** The path of the other browser: `FIREFOX`, or a firefox-esr or firefox on the path; nothing where there is none. */
export const firefox = () => program("FIREFOX", ["firefox-esr", "firefox"]);

/** A running browser (playwright's `Browser`); the caller closes it. */
export function launch() {
  return chromium.launch({ executablePath: executable(), args: flags });
}

/** A running Firefox (puppeteer's `Browser`), which playwright drives only in builds of its own. */
export function launchFirefox() {
  return puppeteer.launch({ browser: "firefox", executablePath: firefox(), timeout: 120_000, protocolTimeout: 120_000 });
}

/** The file that a request asks for, or nothing: never one outside the folder. */
async function fileOf(root, url) {
  let path;
  try {
    path = decodeURIComponent(new URL(url, "http://127.0.0.1").pathname);
  } catch {
    return undefined;
  }
  const file = resolve(root, `.${path}`);
  if (path.includes("\0") || (file !== root && !file.startsWith(root + sep))) return undefined;
  const found = await stat(file).catch(() => undefined);
  if (found?.isDirectory()) return path.endsWith("/") ? join(file, "index.html") : undefined;
  return found?.isFile() ? file : undefined;
}

/**
 * Serves a folder (a path or a file URL) on a free port of 127.0.0.1.
 * `headers` are added to every answer.
 */
export async function serve(folder, headers = {}) {
  const root = resolve(folder instanceof URL ? fileURLToPath(folder) : folder);
  const server = createServer(async (request, answer) => {
    const file = await fileOf(root, request.url);
    const body = file && (await readFile(file).catch(() => undefined));
    if (!body) {
      answer.writeHead(404, { ...headers, "content-type": "text/plain" }).end("not found\n");
      return;
    }
    const type = types[extname(file)] ?? "application/octet-stream";
    answer.writeHead(200, { "cache-control": "no-store", ...headers, "content-type": type });
    answer.end(request.method === "HEAD" ? undefined : body);
  });
  await new Promise((ready, failed) => {
    server.once("error", failed).listen(0, "127.0.0.1", ready);
  });
  return {
    origin: `http://127.0.0.1:${server.address().port}`,
    close() {
      server.closeAllConnections();
      return new Promise((closed) => server.close(closed));
    },
  };
}
