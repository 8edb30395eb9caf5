import { createServer, request } from "node:http";
import type { AddressInfo } from "node:net";

/**
 * Stands before a server, and keeps the writes that it is told to: they come later. Their sender's connection `breaks`, or
 * stands and says nothing.
 */
export async function holdingWay(url: string, breaks = true) {
  const { hostname, port } = new URL(url);
  const held: (() => Promise<void>)[] = [];
  let keeps = 0;
  let keptText: string | null = null;
  let gzipped = 0;
  const pass = (asked: { method: string; headers: object; path: string }, body: Buffer) =>
    new Promise<{ status: number; headers: object; body: Buffer }>((resolve, reject) => {
      const onward = request({ hostname, port, ...asked, headers: { ...asked.headers } }, (said) => {
        const parts: Buffer[] = [];
        said.on("data", (part: Buffer) => parts.push(part));
        said.on("end", () =>
          resolve({ status: said.statusCode ?? 500, headers: said.headers, body: Buffer.concat(parts) }),
        );
      });
      onward.on("error", reject);
      onward.end(body);
    });
  const server = createServer((asked, answer) => {
    const parts: Buffer[] = [];
    asked.on("data", (part: Buffer) => parts.push(part));
    asked.on("end", () => {
      const { method = "GET", headers, url: path = "/" } = asked;
      const body = Buffer.concat(parts);
      if (path.startsWith("/write") && headers["content-encoding"] === "gzip") gzipped += 1;
      const isKept = keeps > 0 || (keptText !== null && body.includes(keptText));
      if (path.startsWith("/write") && isKept) {
        keeps = Math.max(0, keeps - 1);
        held.push(async () => {
          const { status } = await pass({ method, headers, path }, body);
          if (status !== 204) throw new Error(`What was held is refused with ${status}.`);
        });
        if (breaks) asked.socket.destroy();
        return;
      }
      pass({ method, headers, path }, body).then(
        (said) => {
          answer.writeHead(said.status, { ...said.headers });
          answer.end(said.body);
        },
        () => asked.socket.destroy(),
      );
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    /** Keeps the next writes. */
    keep: (writes: number) => {
      keeps = writes;
    },
    /** Keeps every write in which this stands. */
    keepWith: (text: string) => {
      keptText = text;
    },
    held: () => held.length,
    /** Writes that came gzipped. */
    gzipped: () => gzipped,
    async letGo() {
      for (const go of held.splice(0)) await go();
    },
    close() {
      server.closeAllConnections();
      server.close();
    },
  };
}
