import { mkdtempSync, rmSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openAccounts } from "@drumlin/gateway/accounts";
import { startGateway } from "@drumlin/gateway/app";
import { afterAll, expect, it } from "vitest";
import { brokenRequest, randomFrom } from "../soak/attack/broken-request.ts";
import { smallestLine } from "./gateway-process.ts";

const requests = Number(process.env.DRUMLIN_REQUESTS ?? 600);
const data = mkdtempSync(join(tmpdir(), "drumlin-hostile-"));
afterAll(() => rmSync(data, { recursive: true, force: true }));

/** The answer's first line and body; empty where the connection was ended without one. */
function ask(port: number, bytes: Buffer): Promise<string> {
  return new Promise((resolve) => {
    let text = "";
    const socket = connect(port, "127.0.0.1", () => socket.write(bytes));
    // A body that is promised longer than it is: nobody waits for the rest; nor for a stream's end.
    const timer = setTimeout(() => socket.destroy(), 1500);
    socket.on("data", (chunk: Buffer) => {
      text += chunk.toString("latin1");
    });
    socket.on("error", () => {});
    socket.on("close", () => {
      clearTimeout(timer);
      resolve(text);
    });
  });
}

it(`${requests} requests of an operator in which something is wrong: none is an error that nobody expected, and nothing of them ends a start`, {
  timeout: 180_000,
}, async () => {
  const accounts = openAccounts({ folder: data, now: Date.now });
  const token = accounts.tokens.add("desk", "operator", "test");
  accounts.close();
  const log: string[] = [];
  const start = () =>
    startGateway({
      data,
      lineYaml: smallestLine,
      http: { host: "127.0.0.1", port: 0 },
      mqtt: { host: "127.0.0.1", port: 0 },
      log: (message) => log.push(message),
    });
  const gateway = await start();
  const random = randomFrom(Number(process.env.DRUMLIN_SEED ?? 11));
  const kinds = new Map<string, number>();
  let left = requests;
  const asker = async () => {
    while (left > 0) {
      left -= 1;
      const bytes = brokenRequest(token, random);
      const status = /^HTTP\/1\.1 (\d+)/.exec(await ask(gateway.httpPort, bytes))?.[1] ?? "none";
      kinds.set(status, (kinds.get(status) ?? 0) + 1);
      if (status === "500") expect.fail(bytes.toString("latin1").slice(0, 2000));
    }
  };
  await Promise.all(Array.from({ length: 20 }, asker));
  expect(log.filter((line) => /^http: |could not be run/.test(line))).toEqual([]);
  // It was not all refused at one door.
  expect([...kinds.keys()]).toEqual(expect.arrayContaining(["200", "400", "404"]));
  expect(gateway.notReady()).toBeNull();
  await gateway.stop();
  const again = await start();
  expect(log.filter((line) => /could not be run|passed over/.test(line))).toEqual([]);
  expect(again.notReady()).toBeNull();
  await again.stop();
});
