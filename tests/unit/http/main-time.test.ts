import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { longList } from "../../../gateway/src/http/long-list.ts";
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
  interface Asked {
    readonly asker: string;
    readonly routeOptions: { readonly url: string };
    readonly raw: { readonly socket: { destroyed: boolean } };
  }

  /** A server whose one route does `work`; gives the way to ask it, as somebody. */
  function askingFor(path: string, elapsedMs: () => number, work: (request: Asked) => unknown) {
    const route = { handler: async (request: Asked) => work(request) };
    const hooks = new Map<string, (given: unknown) => Promise<void> | void>();
    const server = {
      addHook: (name: string, hook: never) => hooks.set(name, hook),
      decorateRequest: () => {},
    };
    shareMainThread(server as never, (request) => (request as never as Asked).asker, elapsedMs);
    hooks.get("onRoute")?.(route);
    return async (asker = "wall", socket = { destroyed: false }) => {
      const request: Asked = { asker, routeOptions: { url: path }, raw: { socket } };
      await hooks.get("preHandler")?.(request);
      return await (route.handler as (given: Asked) => Promise<unknown>)(request);
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
    const answers = Array.from({ length: 8 }, () => ask());
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

  it("of one asker do not stand before those of another: its turn comes next", async () => {
    let turn = 0;
    const ranIn: [asker: string, turn: number][] = [];
    const ask = askingFor(
      "/lists",
      () => 0,
      ({ asker }) => ranIn.push([asker, turn]),
    );
    const answers = Array.from({ length: 40 }, () => ask("wall"));
    answers.push(ask("desk"), ask("desk"));
    for (; turn < 60; turn += 1) await new Promise((resolve) => setImmediate(resolve));
    await Promise.all(answers);
    const ofDesk = ranIn.filter(([asker]) => asker === "desk").map(([, at]) => at);
    expect(ranIn).toHaveLength(42);
    expect(new Set(ranIn.map(([, at]) => at)).size).toBe(42);
    expect(ofDesk[0]).toBeLessThanOrEqual(2);
    expect(ofDesk[1]).toBeLessThanOrEqual(4);
  });
});

describe("a long list", () => {
  interface Row {
    readonly place: number;
  }
  const last = 1000;
  const rows = (count: number, after: Row | undefined): Row[] => {
    const first = (after?.place ?? last + 1) - 1;
    return Array.from({ length: Math.min(count, first) }, (_, index) => ({ place: first - index }));
  };

  /** Lists of `limit` rows for askers; tells in which turn each piece of whom was read, and how many were half done at once. */
  async function listed(
    limits: readonly (readonly [asker: string, limit: number])[],
    gone: readonly number[] = [],
  ) {
    let turn = 0;
    const pieces: [list: number, turn: number][] = [];
    const half = new Set<number>();
    let most = 0;
    const hooks = new Map<string, (given: unknown) => Promise<void>>();
    const server = {
      addHook: (name: string, hook: never) => hooks.set(name, hook),
      decorateRequest: () => {},
    };
    shareMainThread(
      server as never,
      (request) => (request as never as { asker: string }).asker,
      () => 0,
    );
    const answers = limits.map(async ([asker, limit], list) => {
      const socket = { destroyed: false };
      const request = { asker, routeOptions: { url: "/lists" }, raw: { socket }, inPieces: null };
      await hooks.get("preHandler")?.(request);
      if (gone.includes(list)) socket.destroyed = true;
      const got = await longList<Row>(
        request as never,
        limit,
        (count, after) => {
          pieces.push([list, turn]);
          half.add(list);
          most = Math.max(most, half.size);
          return rows(count, after);
        },
        100,
      );
      half.delete(list);
      return got.map(({ place }) => place);
    });
    const settled = Promise.allSettled(answers);
    for (; turn < 200; turn += 1) await new Promise((resolve) => setImmediate(resolve));
    return { pieces, most, answers: await settled };
  }
  const down = (count: number) => Array.from({ length: count }, (_, index) => last - index);

  it("is read some rows in a turn of the loop, and is whole", async () => {
    const { pieces, answers } = await listed([
      ["wall", 250],
      ["wall", 5000],
      ["wall", 100],
    ]);
    expect(answers.map((answer) => (answer.status === "fulfilled" ? answer.value : answer.reason))).toEqual([
      down(250),
      down(1000),
      down(100),
    ]);
    expect(new Set(pieces.map(([, turn]) => turn)).size).toBe(pieces.length);
    expect(pieces.map(([list]) => list)).toEqual([...Array(3).fill(0), ...Array(11).fill(1), 2]);
  });

  it("of one asker is made alone, so that one lies half done; another's goes on between", async () => {
    const { pieces, most } = await listed([...Array(4).fill(["wall", 1000]), ["desk", 1000]]);
    expect(most).toBe(2);
    const ofDesk = pieces.flatMap(([list], place) => (list === 4 ? [place] : []));
    expect(ofDesk).toHaveLength(10);
    expect(ofDesk.at(-1)).toBeLessThan(22);
  });

  it("that nobody waits for any more is not made, and holds up none behind it", async () => {
    const { answers } = await listed(
      [
        ["wall", 300],
        ["wall", 300],
        ["wall", 300],
      ],
      [1],
    );
    expect(answers.map(({ status }) => status)).toEqual(["fulfilled", "rejected", "fulfilled"]);
  });
});
