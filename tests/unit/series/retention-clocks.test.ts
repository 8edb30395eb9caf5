import { afterEach, expect, it } from "vitest";
import { Retaining } from "../../../gateway/src/series/sqlite/retention.ts";
import { beginMs, dayMs, lived, names, removeLived } from "./lived-days.ts";

afterEach(removeLived);

it("a clock that was a lifetime ahead for a while costs no history once it is right: age counts from what comes now", () => {
  const store = lived(10);
  const series = names[0] as string;
  const retaining = store.retaining({ keepMs: 30 * dayMs, keepBytes: Number.POSITIVE_INFINITY });
  store.add([{ series, tMs: Date.UTC(2100, 0, 1), value: 1, flag: 1 }]);
  store.add([{ series, tMs: Date.UTC(2100, 0, 1, 3), value: 1, flag: 1 }]);
  store.commit();
  store.sealAll();
  // The clock is set right.
  store.add([{ series, tMs: beginMs + 10 * dayMs, value: 1, flag: 1 }]);
  store.commit();
  store.sealAll();
  for (let n = 0; n < 20; n += 1) retaining.step();
  expect(store.rows(series)[0]?.tMs).toBe(beginMs);
  store.close();
});

it("what a clock that was ahead has left makes nothing old before the first rows of a start came", () => {
  const store = lived(10);
  store.add(
    [0, 3].map((hour) => ({
      series: names[0] as string,
      tMs: beginMs + 300 * dayMs + hour * 3_600_000,
      value: 1,
      flag: 1,
    })),
  );
  store.commit();
  store.sealAll();
  const goes = (lastCameMs: number | null) =>
    new Retaining(
      store.file,
      { keepMs: 7 * dayMs, keepBytes: Number.POSITIVE_INFINITY },
      () => lastCameMs,
    ).step();
  expect([goes(null), goes(beginMs + 7 * dayMs), goes(beginMs + 10 * dayMs)]).toEqual([false, false, true]);
  store.close();
});

it("a clock that leapt over more than 400 days costs none either until as many were lived as are kept", () => {
  const store = lived(10);
  const series = names[0] as string;
  const retaining = store.retaining({ keepMs: 7 * dayMs, keepBytes: Number.POSITIVE_INFINITY });
  const aheadMs = beginMs + 509 * dayMs;
  const oldestAfter = (fromDay: number, toDay: number) => {
    for (let hour = fromDay * 24; hour < toDay * 24; hour += 12)
      store.add([{ series, tMs: aheadMs + hour * 3_600_000, value: 1, flag: 1 }]);
    store.commit();
    store.sealAll();
    for (let n = 0; n < 20; n += 1) retaining.step();
    return ((store.rows(series)[0]?.tMs as number) - beginMs) / dayMs;
  };
  expect([oldestAfter(0, 7), oldestAfter(7, 8)]).toEqual([0, 509]);
  store.close();
});

it("a clock that stays ahead by more than is kept costs no day of history until as many days were lived as are kept", () => {
  const store = lived(10);
  const series = names[0] as string;
  const retaining = store.retaining({ keepMs: 7 * dayMs, keepBytes: Number.POSITIVE_INFINITY });
  const aheadMs = beginMs + 9 * dayMs + 365 * dayMs;
  const live = (fromDay: number, toDay: number) => {
    for (let day = fromDay; day < toDay; day += 1)
      store.add(
        [0, 12].map((hour) => ({ series, tMs: aheadMs + day * dayMs + hour * 3_600_000, value: 1, flag: 1 })),
      );
    store.commit();
    store.sealAll();
  };
  const oldest = () => {
    for (let n = 0; n < 20; n += 1) retaining.step();
    return ((store.rows(series)[0]?.tMs as number) - beginMs) / dayMs;
  };
  // Three days before the leap go by their age as ever: 7 after day 2.
  expect(oldest()).toBe(2);
  live(0, 1);
  expect(oldest()).toBe(3);
  live(1, 3);
  expect(oldest()).toBe(5);
  store.close();
});
