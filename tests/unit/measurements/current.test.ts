import { createCurrent, type Measurement } from "@drumlin/gateway/measurements";
import { describe, expect, it } from "vitest";
import { beginMs } from "./probe-bench.ts";

const at = (atS: number) => beginMs + atS * 1000;
const measurement = (atS: number, more: Partial<Measurement> = {}): Measurement => ({
  kind: "measurement",
  id: "1.m1",
  channel: "press/ec-2",
  subject: { kind: "point", id: "after-resin" },
  quantity: "conductivity25",
  value: 1,
  tMs: at(atS),
  flag: 1,
  reasons: [],
  ...more,
});
const presence = (periodMs: number) => ({
  kind: "presence" as const,
  seq: 1,
  node: "press",
  online: true,
  boot: 1,
  firmware: null,
  protocol: 1,
  periodMs,
  channels: [],
  atMs: beginMs,
});

describe("what is about now", () => {
  it("is younger than 60 s", () => {
    expect(createCurrent().take(measurement(0), at(59.9))).toBe(true);
    expect(createCurrent().take(measurement(0), at(60))).toBe(false);
  });
  it("or than 3 periods of its node", () => {
    const current = createCurrent();
    current.presence(presence(100_000));
    expect(current.take(measurement(0), at(299))).toBe(true);
    expect(current.take(measurement(0), at(300))).toBe(false);
  });
  it("is the newest of its channel and quantity", () => {
    const current = createCurrent();
    expect(current.take(measurement(10), at(10))).toBe(true);
    expect(current.take(measurement(9), at(10))).toBe(false);
    expect(current.take(measurement(9, { quantity: "conductivity" }), at(10))).toBe(true);
    expect(current.take(measurement(9, { channel: "press/ec-1" }), at(10))).toBe(true);
    expect(current.take(measurement(10), at(10))).toBe(true);
  });
  it("is remembered over a restart", () => {
    const before = createCurrent();
    before.presence(presence(100_000));
    before.take(measurement(10), at(10));
    const after = createCurrent();
    after.restore(JSON.parse(JSON.stringify(before.snapshot())));
    expect(after.take(measurement(9), at(10))).toBe(false);
    expect(after.take(measurement(11), at(300))).toBe(true);
  });
});
