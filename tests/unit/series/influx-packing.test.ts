import { createServer, type IncomingHttpHeaders } from "node:http";
import type { AddressInfo } from "node:net";
import { describe, expect, it } from "vitest";
import { influxClient, isOnThisMachine } from "../../../gateway/src/series/influx/influx-client.ts";

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
    const heard: { headers: IncomingHttpHeaders; body: string }[] = [];
    const server = createServer((request, response) => {
      let body = "";
      request.setEncoding("latin1").on("data", (piece: string) => {
        body += piece;
      });
      request.on("end", () => {
        heard.push({ headers: request.headers, body });
        response.writeHead(204).end();
      });
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const { port } = server.address() as AddressInfo;
    const lines = Array.from({ length: 500 }, (_, at) => `reading,series=a v=${at},q=1i ${at}`);
    await influxClient({
      url: `http://127.0.0.1:${port}`,
      database: "t",
      retentionPolicy: null,
      signIn: { kind: "none" },
    }).write(lines);
    server.closeAllConnections();
    server.close();
    expect(heard.map(({ headers }) => headers["content-encoding"])).toEqual([undefined]);
    expect(heard[0]?.body).toBe(lines.join("\n"));
  });
});
