import { mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { get, type IncomingHttpHeaders } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { brotliCompressSync, brotliDecompressSync, gunzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { bareApi } from "./bare-api.ts";

const script = "const page = 'monitor';\n".repeat(200);
const pages = mkdtempSync(join(tmpdir(), "drumlin-pages-"));
mkdirSync(join(pages, "assets"));
writeFileSync(join(pages, "index.html"), "<!doctype html>");
writeFileSync(join(pages, "assets", "index-1a2b.js"), script);
writeFileSync(join(pages, "assets", "index-1a2b.js.br"), brotliCompressSync(script));

const http = bareApi("viewer", pages);

interface Answer {
  readonly headers: IncomingHttpHeaders;
  readonly body: Buffer;
}

/** Node's own client: it unpacks nothing by itself. */
function ask(path: string, encoding: string): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const options = { host: "127.0.0.1", port: http.port, path, headers: { "accept-encoding": encoding } };
    get(options, (response) => {
      const parts: Buffer[] = [];
      response.on("data", (part: Buffer) => parts.push(part));
      response.on("end", () => resolve({ headers: response.headers, body: Buffer.concat(parts) }));
    }).on("error", reject);
  });
}

describe("answers are packed", () => {
  it("a page's script in the form that lies beside it, kept for a year", async () => {
    const { headers, body } = await ask("/assets/index-1a2b.js", "gzip, br");
    expect(headers["content-encoding"]).toBe("br");
    expect(headers["cache-control"]).toBe("public, max-age=31536000, immutable");
    expect(brotliDecompressSync(body).toString()).toBe(script);
  });
  it("for a client that takes no packing, as it is", async () => {
    const { headers, body } = await ask("/assets/index-1a2b.js", "identity");
    expect(headers["content-encoding"]).toBeUndefined();
    expect(body.toString()).toBe(script);
  });
  it("the first page is asked for anew each time", async () => {
    expect((await ask("/", "br")).headers["cache-control"]).toBe("no-cache");
  });
  it("a long answer by gzip, and by no cache kept", async () => {
    const { headers, body } = await ask("/api/line/reference", "gzip");
    expect(headers["content-encoding"]).toBe("gzip");
    expect(headers["cache-control"]).toBe("no-store");
    const { sections } = JSON.parse(gunzipSync(body).toString()) as { sections: unknown[] };
    expect(sections.length).toBeGreaterThan(3);
  });
  it("a short one as it is: there is nothing to gain", async () => {
    expect((await ask("/healthz", "gzip")).headers["content-encoding"]).toBeUndefined();
  });
});
