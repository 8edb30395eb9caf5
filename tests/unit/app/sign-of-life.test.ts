import { createServer } from "node:http";
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import { createSignOfLife } from "../../../gateway/src/app/sign-of-life.ts";
import { createStallWatch } from "../../../gateway/src/app/stall-watch.ts";

const heard: string[] = [];
let status = 204;
const receiver = createServer((request, response) => {
  heard.push(`${request.method} ${request.url}`);
  response.writeHead(status).end();
});
let port = 0;
beforeAll(async () => {
  await new Promise<void>((resolve) => receiver.listen(0, "127.0.0.1", resolve));
  port = (receiver.address() as { port: number }).port;
});
afterAll(() => receiver.close());
afterEach(() => {
  vi.useRealTimers();
  heard.length = 0;
});

/** A sign of life each 60 s, on a clock of its own, to a real receiver. */
function aLife({ allowPrivate = true, broker = true } = {}) {
  vi.useFakeTimers({ toFake: ["setInterval", "clearInterval"] });
  let [nowMs, judges] = [1_000_000, true];
  const said: string[] = [];
  const life = createSignOfLife({
    heartbeat: () => ({
      get: `http://127.0.0.1:${port}/ping/{secret:ping-key}`,
      mqtt: true,
      everyMs: 60_000,
      allowPrivate,
    }),
    addressOf: (url) => url.replace("{secret:ping-key}", "p1ng"),
    judges: () => judges,
    say: async (payload) => {
      said.push(payload);
      return broker;
    },
    engineMs: () => nowMs,
    nowMs: () => nowMs,
  });
  return {
    life,
    said,
    judge: (is: boolean) => {
      judges = is;
    },
    async seconds(count: number) {
      for (let second = 0; second < count; second += 1) {
        nowMs += 1000;
        vi.advanceTimersByTime(1000);
        await life.idle();
      }
    },
  };
}

describe("a sign of life to somebody outside", () => {
  it("is given in its time, by both ways, while and only while the path judges", async () => {
    const { life, said, judge, seconds } = aLife();
    await seconds(181);
    expect(heard).toEqual(Array.from({ length: 4 }, () => "GET /ping/p1ng"));
    expect(said.length).toBe(4);
    expect(life.state()).toMatchObject({ error: null });
    judge(false);
    await seconds(600);
    expect(heard.length, "a path that stands gives no sign").toBe(4);
    judge(true);
    await seconds(2);
    expect(heard.length).toBe(5);
    life.stop();
    await seconds(300);
    expect(heard.length).toBe(5);
  });

  it("says why the last one failed, and is not made up for", async () => {
    status = 500;
    const { life, seconds } = aLife({ broker: false });
    await seconds(61);
    status = 204;
    expect(life.state()).toEqual({ lastMs: null, error: "It answered 500. The broker is away." });
    expect(heard.length).toBe(2);
    life.stop();
  });

  it("goes to no address of the own network, unless that is allowed on purpose", async () => {
    const { life, seconds } = aLife({ allowPrivate: false });
    await seconds(2);
    expect(life.state().error).toContain("allow_private");
    expect(heard).toEqual([]);
    life.stop();
  });
});

describe("whether something has stopped", () => {
  it("is known when what was due is not done in time, and over when it is", () => {
    const isStalled = createStallWatch(20_000);
    expect(isStalled(10, 10, 0)).toBe(false);
    expect(isStalled(11, 10, 1000)).toBe(false);
    expect(isStalled(500, 10, 21_000)).toBe(false);
    expect(isStalled(600, 10, 22_000)).toBe(true);
    expect(isStalled(700, 11, 23_000), "what was due then is done").toBe(false);
    // Busy all the time, and never behind for long.
    for (let second = 0; second < 100; second += 1)
      expect(isStalled(700 + second * 10, 690 + second * 10, 24_000 + second * 1000)).toBe(false);
  });
});
