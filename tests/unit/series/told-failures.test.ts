import { expect, it } from "vitest";
import { ToldFailures } from "../../../gateway/src/series/influx/told-failures.ts";

const unreachable = { code: "influx-unreachable", said: "reset", tries: 1 } as const;
const unauthorised = { code: "influx-unauthorised", said: "401", tries: 1 } as const;

it("a server that comes and goes each two seconds is told of once, and once more when it has been there for a minute", () => {
  const told: (string | null)[] = [];
  const failures = new ToldFailures(60_000, (failure) => told.push(failure?.code ?? null));
  for (let second = 0; second < 600; second += 1)
    if (second % 4 < 2) failures.failed(unreachable);
    else failures.good(1000 * second);
  expect(told).toEqual(["influx-unreachable"]);
  failures.good(658_000 - 1);
  expect(told).toHaveLength(1);
  for (const nowMs of [658_000, 661_000, 800_000]) failures.good(nowMs);
  expect(told).toEqual(["influx-unreachable", null]);
  failures.failed(unreachable);
  expect(told).toEqual(["influx-unreachable", null, "influx-unreachable"]);
});

it("each kind of failure is told once, also where they take turns; while all is well nothing is", () => {
  const told: (string | null)[] = [];
  const failures = new ToldFailures(60_000, (failure) => told.push(failure?.code ?? null));
  failures.good(0);
  for (let turn = 0; turn < 5; turn += 1) {
    failures.failed(unreachable);
    failures.failed(unauthorised);
  }
  expect(told).toEqual(["influx-unreachable", "influx-unauthorised"]);
});
