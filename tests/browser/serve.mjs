// A static host on the loopback address, as dumb as the ones salons use.

import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { gzipSync } from "node:zlib";
import { extname, join, normalize } from "node:path";

const KINDS = {
  ".html": "text/html; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".ics": "text/calendar; charset=utf-8",
  ".txt": "text/plain; charset=utf-8",
};

/** Serves a folder; the answer holds the origin and a function that stops it. */
export async function serve(folder) {
  const server = createServer(async (request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url, "http://localhost").pathname));
    try {
      const bytes = await readFile(join(folder, path));
      const packed = /\bgzip\b/.test(request.headers["accept-encoding"] ?? "");
      const kind = { "content-type": KINDS[extname(path)] ?? "application/octet-stream" };
      response.writeHead(200, packed ? { ...kind, "content-encoding": "gzip" } : kind);
      response.end(packed ? gzipSync(bytes) : bytes);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
  const origin = `http://127.0.0.1:${server.address().port}`;
  return { origin, stop: () => new Promise((stopped) => server.close(stopped)) };
}
