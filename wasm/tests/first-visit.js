// A first visit, seen from the server: which files it asks for, and how many bytes go over the wire.

import { createServer } from "node:http";

import { files } from "../page/files.js";

/** Serves the built page in a folder of its own, as wasm/page/serve does, and writes down what is sent. */
export async function counting(folder) {
  const sent = [];
  const answer = files(folder);
  const server = createServer((request, response) => {
    const { pathname } = new URL(request.url, "http://page");
    if (!pathname.startsWith("/page/")) {
      response.writeHead(404).end();
      return;
    }
    request.url = request.url.slice("/page".length);
    response.once("finish", () => {
      // Headers come on top; how long they are says nothing of the page.
      sent.push({ path: pathname, status: response.statusCode, bytes: response.statusCode === 200 ? Number(response.getHeader("content-length")) : 0 });
    });
    answer(request, response);
  });
  await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
  return {
    origin: `http://127.0.0.1:${server.address().port}`,
    sent,
    close: () => {
      server.closeAllConnections();
      return new Promise((closed) => server.close(closed));
    },
  };
}

/** What was sent, summed up: bytes in all and of the engine, and files that were sent twice. */
export function summary(sent) {
  const whole = sent.filter(({ status }) => status === 200);
  const sum = (some) => some.reduce((total, { bytes }) => total + bytes, 0);
  const paths = whole.map(({ path }) => path);
  return {
    requests: sent.length,
    files: new Set(paths).size,
    twice: paths.filter((path, at) => paths.indexOf(path) < at),
    bytes: sum(whole),
    engineBytes: sum(whole.filter(({ path }) => path.endsWith(".wasm"))),
  };
}
