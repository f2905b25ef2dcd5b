// How the page's files are handed out: what is named by its content for good, all else asked for anew.

import { createHash } from "node:crypto";
import { existsSync, readFileSync, statSync } from "node:fs";
import { extname, join, normalize, sep } from "node:path";
import { gzipSync } from "node:zlib";

const types = {
  ".css": "text/css; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json",
};
const named = /-[0-9A-Z]{8}\.(css|js|wasm)$/;

/** Answers requests with the files of a folder. */
export function files(folder) {
  /** What was read and packed, by path and time of change. */
  const known = new Map();
  function read(file) {
    const { mtimeMs } = statSync(file);
    let found = known.get(file);
    if (found?.mtimeMs !== mtimeMs) {
      const body = readFileSync(file);
      const packed = extname(file) === ".png" ? null : gzipSync(body, { level: 9 });
      found = { mtimeMs, body, packed, tag: `"${createHash("sha256").update(body).digest("hex").slice(0, 16)}"` };
      known.set(file, found);
    }
    return found;
  }
  return (request, response) => {
    const refuse = (status, text) => response.writeHead(status, { "content-type": "text/plain" }).end(text);
    let path;
    try {
      path = normalize(decodeURIComponent(new URL(request.url ?? "/", "http://page").pathname));
    } catch {
      return refuse(400, "bad address");
    }
    const file = join(folder, path.endsWith("/") ? `${path}index.html` : path);
    if (!file.startsWith(folder + sep) || path.includes("\0") || !existsSync(file) || !statSync(file).isFile()) return refuse(404, "not here");
    const { body, packed, tag } = read(file);
    const headers = {
      "content-type": types[extname(file)] ?? "text/plain; charset=utf-8",
      "cache-control": named.test(file) ? "max-age=31536000, immutable" : "no-cache",
      etag: tag,
      vary: "accept-encoding",
    };
    for (const [name, value] of Object.entries(headers)) response.setHeader(name, value);
    if (request.headers["if-none-match"] === tag) return response.writeHead(304).end();
    const zip = packed && /\bgzip\b/.test(request.headers["accept-encoding"] ?? "");
    if (zip) response.setHeader("content-encoding", "gzip");
    response.setHeader("content-length", (zip ? packed : body).length);
    response.end(request.method === "HEAD" ? undefined : zip ? packed : body);
  };
}
