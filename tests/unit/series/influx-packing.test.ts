import { createServer, type IncomingHttpHeaders } from "node:http";
import type { AddressInfo } from "node:net";
import { describe, expect, it } from "vitest";
import {
  type InfluxClient,
  influxClient,
  isOnThisMachine,
} from "../../../gateway/src/series/influx/influx-client.ts";

/** What a server on this machine hears of a client. */
async function heardOf(speak: (client: InfluxClient) => Promise<void>) {
  const heard: { headers: IncomingHttpHeaders; body: Buffer }[] = [];
  const server = createServer((request, response) => {
    const pieces: Buffer[] = [];
    request.on("data", (piece: Buffer) => pieces.push(piece));
    request.on("end", () => {
      heard.push({ headers: request.headers, body: Buffer.concat(pieces) });
      response.writeHead(204).end();
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  const url = `http://127.0.0.1:${port}`;
  await speak(influxClient({ url, database: "t", retentionPolicy: null, signIn: { kind: "none" } }));
  server.closeAllConnections();
  server.close();
  return heard;
}

describe("what is sent to InfluxDB", () => {
  it("is packed for the way through a network alone", () => {
    for (const url of [
      "http://127.0.0.1:8086",
      "http://127.9.8.7:1",
      "http://localhost:8086",
      "https://[::1]:8086",
    ])
      expect([url, isOnThisMachine(url)]).toEqual([url, true]);
    for (const url of [
      "http://influxdb:8086",
      "http://10.0.0.4:8086",
      "http://127.0.0.1.example.org:8086",
      "http://localhost.example.org",
      "http://[::2]:8086",
    ])
      expect([url, isOnThisMachine(url)]).toEqual([url, false]);
  });

  it("goes as it is to a server on this machine, every line of it", async () => {
    const lines = Array.from({ length: 500 }, (_, at) => `reading,series=a v=${at},q=1i ${at}`);
    const heard = await heardOf((client) => client.write(lines));
    expect(heard.map(({ headers }) => headers["content-encoding"])).toEqual([undefined]);
    expect(heard[0]?.body.toString()).toBe(lines.join("\n"));
  });

  it("stands as it was given: its bytes are written over as soon as it was handed on", async () => {
    const text = Buffer.from(
      `reading,series=ø€\\ v=1,q=1i 7\n${"reading,series=b v=2,q=1i 8\n".repeat(9000)}`,
    );
    const given = Buffer.from(text);
    const heard = await heardOf((client) => {
      const sent = client.send(given);
      given.fill(0);
      return sent;
    });
    expect(heard.map(({ body }) => body.equals(text))).toEqual([true]);
    expect(heard[0]?.headers["content-length"]).toBe(`${text.length}`);
  });
});
