import { afterEach, describe, expect, it } from "vitest";
import { bad, good, house, never, rows, series } from "./influx-house.ts";

let here: ReturnType<typeof house>;
afterEach(() => here.sender.stop());
/** It has looked for more a few times. */
async function looked(): Promise<void> {
  const { looks } = here;
  await expect.poll(() => here.looks, { interval: 2 }).toBeGreaterThan(looks + 3);
}
/** Whatever needs no timer has been done. */
async function settled(): Promise<void> {
  for (let turn = 0; turn < 50; turn += 1) await new Promise(setImmediate);
}
const done = () => expect.poll(() => here.batches.length + here.owed.length, { interval: 2 }).toBe(0);

describe("the sender, its log and its thread", () => {
  it("goes on in a batch where it was left, and begins the next one at its first row", async () => {
    here = house();
    here.put(1, rows(100, 7));
    here.put(2, rows(200, 3));
    here.write = ({ from, batch }) =>
      from + 2 < batch.series.length ? bad(from + 2) : good(batch.series.length);
    await here.sender.start();
    await done();
    expect(here.asks("write")).toEqual([
      "write 100 7 from 0",
      "write 100 7 from 2",
      "write 100 7 from 4",
      "write 100 7 from 6",
      "write 200 3 from 0",
      "write 200 3 from 2",
    ]);
    expect(here.asks("sent")).toEqual(["sent 1", "sent 2"]);
    expect(here.sender.state().sent).toBe(10);
  });

  it("a batch or a stretch that takes long goes on where it was left, in turns, and is no failure", async () => {
    here = house(never);
    here.put(1, rows(100, 4));
    here.stored = rows(1000, 4);
    here.owed = [{ series, fromMs: 900, toMs: 2000 }];
    here.write = ({ from, batch }) => good(Math.min(batch.series.length, from + 2));
    await here.sender.start();
    await done();
    expect(here.asked.filter((one) => /^(write|sent|paid)/.test(one))).toEqual([
      "write 1000 4 from 0",
      "paid 900 1002",
      "write 100 4 from 0",
      "write 1002 2 from 0",
      "paid 1002 1004",
      "paid 1004 2000",
      "write 100 4 from 2",
      "sent 1",
    ]);
    expect(here.changes).toEqual([]);
    expect(here.sender.state().sent).toBe(8);
  });

  it("a batch that was sealed while it failed takes nothing of the next one along", async () => {
    here = house();
    here.put(1, rows(100, 7));
    here.write = () => {
      here.batches = [];
      here.put(2, rows(200, 9));
      here.write = ({ batch }) => good(batch.series.length);
      return bad(5);
    };
    await here.sender.start();
    await done();
    expect(here.asks("write")).toEqual(["write 100 7 from 0", "write 200 9 from 0"]);
  });

  it("a log that counts from the start again is sent from its first row", async () => {
    here = house();
    here.put(1, rows(100, 4));
    await here.sender.start();
    await done();
    here.put(1, rows(300, 4));
    await done();
    expect(here.asks("write")).toEqual(["write 100 4 from 0", "write 300 4 from 0"]);
  });

  it("what is owed and what is new take turns, and nothing is waited for while either is left", async () => {
    here = house(never);
    for (const at of [1, 2, 3, 4]) here.stored.push(...rows(at * 1000, 2));
    here.owed = [1, 2, 3, 4].map((at) => ({ series, fromMs: at * 1000, toMs: at * 1000 + 2 }));
    here.put(1, rows(50, 3));
    here.put(2, rows(60, 3));
    await here.sender.start();
    await done();
    const begins = here.asks("write").map((one) => Number(one.split(" ")[1]));
    expect(begins).toEqual([1000, 50, 2000, 60, 3000, 4000]);
  });

  it("of a stretch, what is there is paid at once, also where the rest fails; that it is being paid is said before it is read", async () => {
    here = house();
    here.stored = rows(1000, 8);
    here.owed = [{ series, fromMs: 900, toMs: 2000 }];
    let tries = 0;
    here.write = ({ batch }) => {
      tries += 1;
      return tries === 1 ? bad(2) : tries === 2 ? bad(0) : good(batch.series.length);
    };
    await here.sender.start();
    await done();
    expect(here.asked.filter((one) => one !== "check")).toEqual([
      "paying",
      "range 900 2000",
      "write 1000 5 from 0",
      "paid 900 1002",
      "paying",
      "range 1002 2000",
      "write 1002 5 from 0",
      "paying",
      "range 1002 2000",
      "write 1002 5 from 0",
      "paid 1002 1007",
      "write 1007 1 from 0",
      "paid 1007 1008",
      "paid 1008 2000",
    ]);
  });

  it("a batch that the log tells of is sent without waiting for the next look; nobody is told after a stop", async () => {
    here = house(never);
    await here.sender.start();
    await expect.poll(() => here.looks).toBe(1);
    here.put(1, rows(100, 2));
    here.tell();
    await expect.poll(() => here.asks("sent")).toEqual(["sent 1"]);
    expect(here.isFollowed).toBe(true);
    await here.sender.stop();
    expect(here.isFollowed).toBe(false);
  });

  it("asks whether the server is there at the start, and while something is wrong, also while nothing waits", async () => {
    here = house();
    here.check = () => bad(0, "influx-unauthorised");
    await here.sender.start();
    await expect.poll(() => here.sender.state().failure?.tries ?? 0).toBeGreaterThan(2);
    expect(here.changes).toEqual(["influx-unauthorised"]);
    here.check = () => bad(0, "influx-no-database");
    await expect.poll(() => here.changes).toEqual(["influx-unauthorised", "influx-no-database"]);
    here.check = () => good(0);
    await expect.poll(() => here.sender.state().failure).toBeNull();
    expect(here.changes).toEqual(["influx-unauthorised", "influx-no-database", null]);
    const checks = here.asks("check").length;
    expect(here.sender.state().failures.get("influx-unauthorised")).toBeGreaterThan(2);
    here.put(1, rows(100, 2));
    await done();
    expect(here.asks("check")).toHaveLength(checks);
  });

  it("points that are set aside are counted for themselves, told of, and not as sent", async () => {
    here = house();
    const aside = {
      code: "influx-type-conflict",
      measurement: "flow",
      points: 3,
      fromMs: 1,
      toMs: 2,
      example: "x",
      said: "y",
    } as const;
    here.put(1, rows(100, 10));
    here.put(2, rows(200, 10));
    here.write = ({ batch: { tMs, series: ids } }) => ({
      ...good(ids.length),
      aside: tMs[0] === 100 ? [aside] : [],
    });
    await here.sender.start();
    await done();
    await expect.poll(() => here.sender.state().sent).toBe(17);
    expect(here.asides).toEqual([3]);
    expect(here.sender.state().failures.get("influx-type-conflict")).toBe(1);
  });

  it("a store that is away is no failure of the server; a thread that is away is", async () => {
    here = house();
    here.isLogAway = true;
    await here.sender.start();
    await expect.poll(() => here.asks("check").length).toBeGreaterThan(0);
    await looked();
    expect(here.sender.state().failure).toBeNull();
    here.isLogAway = false;
    here.trouble = "it ended";
    here.put(1, rows(100, 2));
    here.write = () => Promise.reject(new Error("The store's thread ended: it ended"));
    await expect
      .poll(() => here.sender.state().failure)
      .toMatchObject({ code: "influx-unreachable", said: "The store's thread ended: it ended" });
  });

  it("makes itself known again each half minute: the store's file may be another one", async () => {
    here = house();
    await here.sender.start();
    await expect.poll(() => here.asks("check").length).toBe(1);
    const { follows } = here;
    here.nowMs += 29_000;
    await looked();
    expect(here.follows).toBe(follows);
    here.nowMs += 1_001;
    await expect.poll(() => here.follows).toBe(follows + 1);
  });

  it("says for how long it has not had everything, and 0 once it has", async () => {
    here = house();
    here.nowMs = 5000;
    await here.sender.start();
    here.nowMs = 10_000;
    await expect.poll(() => here.sender.state().behindMs).toBe(0);
    await looked();
    here.write = () => bad(0);
    here.put(1, rows(100, 2));
    await expect.poll(() => here.sender.state().behind.batches).toBe(1);
    here.nowMs = 70_000;
    expect(here.sender.state().behindMs).toBe(60_000);
    here.write = ({ batch }) => good(batch.series.length);
    await done();
    await expect.poll(() => here.sender.state().behindMs).toBe(0);
  });

  it("stops at once in the middle of a wait, which is no time behind; that its thread goes then is nothing to tell", async () => {
    here = house(never);
    await here.sender.start();
    await expect.poll(() => here.asks("check").length).toBe(1);
    await settled();
    here.nowMs += 60_000;
    expect(here.sender.state().behindMs).toBe(0);
    await here.sender.stop();
    here = house();
    here.put(1, rows(100, 2));
    let end = (_: Error) => {};
    here.write = () => new Promise((_, reject) => (end = reject));
    await here.sender.start();
    await expect.poll(() => here.asks("write").length).toBe(1);
    const stopped = here.sender.stop();
    end(new Error("terminated"));
    await stopped;
    expect(here.changes).toEqual([]);
    expect(here.sender.state().failure).toBeNull();
    // It may be on its way: the next start is told.
    expect(here.told.at(-1)).toEqual([{ series, fromMs: 100, toMs: 102 }]);
  });

  it("a write without an answer is noted before anything else is sent, owed five minutes later, and then forgotten", async () => {
    here = house();
    here.stored = rows(100, 6);
    here.put(1, rows(100, 6));
    here.write = ({ batch }) => {
      here.write = () => good(batch.series.length);
      return bad(0, "influx-unreachable", [[2, 5]]);
    };
    let letGo = () => {};
    const hold = () => {
      here.isHeldBack = new Promise((resolve) => (letGo = resolve));
    };
    hold();
    await here.sender.start();
    // All of it before it goes out: who is killed meanwhile has no answer either.
    const all = { series, fromMs: 100, toMs: 106 };
    await expect.poll(() => here.told).toEqual([[all]]);
    await settled();
    expect(here.asks("write")).toEqual([]);
    const first = letGo;
    hold();
    first();
    const part = { series, fromMs: 102, toMs: 105 };
    await expect.poll(() => here.told).toEqual([[all], [part]]);
    await settled();
    expect(here.asks("write")).toHaveLength(1);
    letGo();
    await done();
    expect(here.asks("write")).toHaveLength(2);
    await expect.poll(() => here.told.slice(2)).toEqual([[part, all], [part]]);
    here.nowMs += 299_999;
    await looked();
    expect(here.asks("owe ")).toEqual([]);
    here.nowMs += 1;
    await expect.poll(() => here.asks("owe ")).toEqual(["owe 102 105"]);
    await done();
    expect(here.asks("write").at(-1)).toBe("write 102 3 from 0");
    expect(here.told.at(-1)).toEqual([]);
    here.nowMs += 600_000;
    await looked();
    expect(here.asks("owe ")).toHaveLength(1);
  });
});
