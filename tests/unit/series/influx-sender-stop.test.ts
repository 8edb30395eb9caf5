import { expect, it } from "vitest";
import { bad, good, house, never, rows } from "./influx-house.ts";

it("a stop with time sends what was stored while it rested, batches and stretches, and ends then", async () => {
  const here = house(never);
  await here.sender.start();
  // It has looked, and rests.
  await expect.poll(() => here.looks).toBe(1);
  here.stored = rows(500, 4);
  here.put(1, rows(100, 2));
  here.put(2, rows(200, 2));
  here.owed.push({ series: "reading/press/ec-1[S/m]", fromMs: 500, toMs: 504 });
  await here.sender.stop(never);
  expect(here.asks("sent")).toEqual(["sent 1", "sent 2"]);
  expect(here.owed).toEqual([]);
  expect(here.sender.state().sent).toBe(8);
});

it("what is stored while it looks for the last time but one is sent by a stop too", async () => {
  const here = house(never);
  let letGo = () => {};
  here.put(1, rows(100, 2));
  here.write = ({ batch }) => new Promise((resolve) => (letGo = () => resolve(good(batch.series.length))));
  await here.sender.start();
  await expect.poll(() => here.asks("write").length).toBe(1);
  const stopped = here.sender.stop(never);
  here.put(2, rows(200, 2));
  here.write = ({ batch }) => good(batch.series.length);
  letGo();
  await stopped;
  expect(here.asks("sent")).toEqual(["sent 1", "sent 2"]);
});

it("a stop waits for nothing while the server is away, nor once it fails, nor for longer than it may", async () => {
  const away = house(1);
  away.put(1, rows(100, 2));
  away.write = () => bad(0);
  await away.sender.start();
  await expect.poll(() => away.changes).toEqual(["influx-unreachable"]);
  const before = away.asks("write").length;
  await away.sender.stop(never);
  expect(away.asks("write").length - before).toBeLessThanOrEqual(1);

  const failing = house(never);
  await failing.sender.start();
  await expect.poll(() => failing.looks).toBe(1);
  failing.put(1, rows(100, 2));
  failing.write = () => bad(0);
  await failing.sender.stop(never);
  expect(failing.asks("write")).toHaveLength(1);
  expect(failing.batches).toHaveLength(1);

  const hanging = house(never);
  await hanging.sender.start();
  await expect.poll(() => hanging.looks).toBe(1);
  hanging.put(1, rows(100, 2));
  let end = (_: Error) => {};
  hanging.write = () => new Promise((_, reject) => (end = reject));
  // What ends the thread ends what was asked of it.
  hanging.ended = () => end(new Error("terminated"));
  await hanging.sender.stop(20);
  expect(hanging.batches).toHaveLength(1);
  expect(hanging.told.at(-1)).toHaveLength(1);
});

it("a stop that comes between a write and the next look leaves nothing in doubt", async () => {
  const here = house(never);
  let goOn = () => {};
  here.put(1, rows(100, 2));
  here.write = ({ batch }) => {
    here.nowMs = 6000;
    here.isCountHeldBack = new Promise((resolve) => (goOn = resolve));
    return good(batch.series.length);
  };
  await here.sender.start();
  await expect.poll(() => here.asks("sent")).toEqual(["sent 1"]);
  expect(here.told.at(-1)).toHaveLength(1);
  const stopped = here.sender.stop();
  goOn();
  await stopped;
  expect(here.told.at(-1)).toEqual([]);
});
