import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MainTime } from "../../../gateway/src/http/main-time.ts";
import { shareMainThread } from "../../../gateway/src/http/share-main-thread.ts";

/** Work of `tookMs` that is asked for again as soon as it may; how much of `forMs` it took. */
function busyMs(mainTime: MainTime, asker: string, tookMs: number, forMs: number): number {
  let [nowMs, sum] = [0, 0];
  while (nowMs < forMs) {
    const { waitMs, reservedMs } = mainTime.begin(asker, nowMs);
    nowMs += waitMs;
    if (waitMs > 0) continue;
    nowMs += tookMs;
    sum += tookMs;
    mainTime.spent(asker, { tookMs, reservedMs }, nowMs);
  }
  return sum;
}

describe("the main thread's time", () => {
  it("is had to a fifth by one asker, whatever each piece takes, and a little more at first", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), (tookMs) => {
        const busy = busyMs(new MainTime(), "wall", tookMs, 60_000);
        expect(busy).toBeGreaterThan(0.19 * 60_000);
        expect(busy).toBeLessThanOrEqual(0.2 * 60_000 + 300 + 2 * tookMs);
      }),
    );
  });

  it("is not used up by many requests at once: each is taken for what the last one took", () => {
    const mainTime = new MainTime();
    const first = mainTime.begin("wall", 0);
    mainTime.spent("wall", { tookMs: 100, reservedMs: first.reservedMs }, 100);
    const begun = Array.from({ length: 50 }, () => mainTime.begin("wall", 100)).filter(
      ({ waitMs }) => waitMs === 0,
    );
    expect(begun.length).toBeLessThanOrEqual(3);
    expect(begun.length).toBeGreaterThanOrEqual(2);
    expect(mainTime.begin("desk", 100)).toEqual({ waitMs: 0, reservedMs: 0 });
  });

  it("comes back while nothing is asked, and nobody is remembered for ever", () => {
    const mainTime = new MainTime();
    mainTime.spent("wall", { tookMs: 5000, reservedMs: 0 }, 0);
    expect(mainTime.begin("wall", 0).waitMs).toBe(23_500);
    expect(mainTime.begin("wall", 23_500).waitMs).toBe(0);
    for (let asker = 0; asker < 30_000; asker += 1) mainTime.begin(`a${asker}`, 100_000);
    expect(mainTime.size()).toBeLessThanOrEqual(10_000);
  });
});

describe("requests that come at once", () => {
  /** A server whose one route does `work`; gives the way to ask it. */
  function askingFor(path: string, elapsedMs: () => number, work: () => void) {
    const route = { handler: async () => work() };
    const hooks = new Map<string, (given: unknown) => Promise<void> | void>();
    const server = { addHook: (name: string, hook: never) => hooks.set(name, hook) };
    shareMainThread(server as never, () => "wall", elapsedMs);
    hooks.get("onRoute")?.(route);
    return async () => {
      const request = { routeOptions: { url: path }, raw: { socket: { destroyed: false } } };
      await hooks.get("preHandler")?.(request);
      await (route.handler as (given: unknown) => Promise<void>)(request);
    };
  }

  /** Eight of one asker, each 100 ms of work; gives in which turn of the loop each handler ran within the first 40 turns. */
  async function turnsOf(path: string): Promise<readonly number[]> {
    let [nowMs, turn] = [0, 0];
    const ranIn: number[] = [];
    const ask = askingFor(
      path,
      () => nowMs,
      () => {
        ranIn.push(turn);
        nowMs += 100;
      },
    );
    const answers = Array.from({ length: 8 }, ask);
    for (; turn < 40; turn += 1) await new Promise((resolve) => setImmediate(resolve));
    // What is made up for is slept through; here it has passed.
    nowMs += 60_000;
    const inFirst = [...ranIn];
    await Promise.all(answers);
    return inFirst;
  }

  it("have a turn of the loop each, and those beyond what is let through at once wait", async () => {
    const ranIn = await turnsOf("/lists");
    expect(new Set(ranIn).size).toBe(ranIn.length);
    // 300 ms at once, and the piece that goes over it.
    expect(ranIn.length).toBe(4);
  });

  it("wait no longer than is owed by a clock that runs on faster than timers: a machine that slept", async () => {
    let nowMs = 0;
    let done = 0;
    const ask = askingFor(
      "/lists",
      () => nowMs,
      () => {
        nowMs += 20_000;
        done += 1;
      },
    );
    await ask();
    const second = ask();
    await new Promise((resolve) => setImmediate(resolve));
    expect(done).toBe(1);
    nowMs += 200_000;
    await second;
    expect(done).toBe(2);
  });

  it("and whoever asks whether the gateway lives does not stand behind them", async () => {
    expect(new Set(await turnsOf("/healthz")).size).toBe(1);
  });
});
