import {
  type CurrentMeasurement,
  createCurrentStage,
  type Gone,
  latestCell,
  type Measurement,
} from "@drumlin/gateway/measurements";
import { type AnyStage, Composer, type PathEvent, SavedRows } from "@drumlin/gateway/path";
import { type NodeNow, nodeCell } from "@drumlin/gateway/readings";
import { describe, expect, it } from "vitest";
import { beginMs } from "./probe-bench.ts";

const at = (atS: number) => beginMs + atS * 1000;
const measurement = (atS: number, more: Partial<Measurement> = {}): Measurement => ({
  kind: "measurement",
  channel: "press/ec-2",
  subject: { kind: "point", id: "after-resin" },
  quantity: "conductivity25",
  value: 1,
  tMs: at(atS),
  flag: 1,
  reasons: [],
  ...more,
});
const contact = (atS: number, value: number | null): Measurement =>
  measurement(atS, {
    channel: "drums/f-1",
    subject: { kind: "float", id: "mix.stop", drum: "mix", role: "stop" },
    quantity: "state",
    value,
  });

/** Stands for what comes before on the path: measurements as they are told, periods as nodes announce them. */
const before: AnyStage = {
  name: "before",
  version: 1,
  owns: [nodeCell],
  reads: [],
  hears: {
    message({ measurements = [], periodMs }, ctx) {
      if (periodMs !== undefined) ctx.put(nodeCell, "press", { periodMs } as NodeNow);
      for (const one of measurements) ctx.tell(one);
    },
  },
  dirty: () => [],
  load: () => true,
};

interface Message {
  readonly measurements?: readonly Measurement[];
  readonly periodMs?: number;
}

/** The stage alone, on a clock in seconds. */
function bench(saved = new SavedRows()) {
  const composer = new Composer({ stages: [before, createCurrentStage()], readLine: () => null });
  composer.restore(saved, { last: () => [], list: () => [] });
  let seq = saved.seq;
  const push = (kind: string, atS: number, more: object = {}) => {
    seq += 1;
    const told: string[] = [];
    composer.push({ kind, seq, receivedAt: at(atS), ...more }, (event: PathEvent) => {
      if (event.kind === "current") {
        const { tMs, quantity } = (event as CurrentMeasurement).measurement;
        told.push(`${quantity} of ${(tMs - beginMs) / 1000} s`);
      } else if (event.kind === "gone") {
        const { quantity, lastMs } = event as Gone;
        told.push(`${quantity} gone, last of ${(lastMs - beginMs) / 1000} s`);
      }
    });
    return told;
  };
  return {
    message: (atS: number, message: Message) => push("message", atS, message),
    tick: (atS: number) => push("tick", atS),
    start: (atS: number) => push("start", atS),
    latest: (series: string) => composer.board.get(latestCell, series),
    restarted() {
      const rows = new SavedRows();
      rows.apply(structuredClone(composer.changes()));
      return bench(rows);
    },
  };
}

describe("what is about now", () => {
  it("is younger than 60 s", () => {
    expect(bench().message(59.9, { measurements: [measurement(0)] })).toEqual(["conductivity25 of 0 s"]);
    expect(bench().message(60, { measurements: [measurement(0)] })).toEqual([]);
  });

  it("or than 3 periods of its node", () => {
    const b = bench();
    b.message(0, { periodMs: 100_000 });
    expect(b.message(299, { measurements: [measurement(0)] })).toEqual(["conductivity25 of 0 s"]);
    // The first one was not followed in 300 s; the second one is that old as it comes.
    expect(b.message(400, { measurements: [measurement(100)] })).toEqual([
      "conductivity25 gone, last of 0 s",
    ]);
  });

  it("is the newest of its series: what came late moves nothing", () => {
    const b = bench();
    b.message(10, { measurements: [measurement(10)] });
    expect(b.message(10, { measurements: [measurement(9)] })).toEqual([]);
    expect(b.message(10, { measurements: [measurement(9, { quantity: "conductivity" })] })).toHaveLength(1);
    expect(b.message(10, { measurements: [measurement(10, { value: 2 })] })).toHaveLength(1);
    expect(b.latest("point/after-resin/conductivity25")?.measurement.value).toBe(2);
  });

  it("is told to be gone once, when it was not followed in time, those that are due first at first", () => {
    const b = bench();
    b.message(0, { measurements: [measurement(0)] });
    b.message(5, { measurements: [measurement(5, { quantity: "temperature" })] });
    b.message(20, { measurements: [measurement(20, { quantity: "temperature" })] });
    expect(b.tick(59.9)).toEqual([]);
    expect(b.tick(90)).toEqual(["conductivity25 gone, last of 0 s", "temperature gone, last of 20 s"]);
    expect(b.tick(900)).toEqual([]);
    expect(b.latest("point/after-resin/conductivity25")).toMatchObject({ gone: true });
    expect(b.message(901, { measurements: [measurement(900)] })).toEqual(["conductivity25 of 900 s"]);
    expect(b.tick(2000)).toEqual(["conductivity25 gone, last of 900 s"]);
  });

  it("has not fallen silent while the gateway was away", () => {
    const b = bench();
    b.message(0, { measurements: [measurement(0)] });
    const after = b.restarted();
    expect(after.start(500)).toEqual([]);
    expect(after.tick(559)).toEqual([]);
    expect(after.tick(560)).toEqual(["conductivity25 gone, last of 0 s"]);
  });

  it("is remembered over a restart, and its time with it", () => {
    const b = bench();
    b.message(10, { measurements: [measurement(10)] });
    const after = b.restarted();
    expect(after.message(11, { measurements: [measurement(9)] })).toEqual([]);
    expect(after.tick(70)).toEqual(["conductivity25 gone, last of 10 s"]);
  });

  it("knows when a contact last changed: not at its first word, nor over a missing one", () => {
    const b = bench();
    const changed = () => b.latest("float/mix.stop/state")?.changedAtMs;
    b.message(0, { measurements: [contact(0, 1)] });
    expect(changed()).toBeNull();
    b.message(5, { measurements: [contact(5, 0)] });
    expect(changed()).toBe(at(5));
    b.message(10, { measurements: [contact(10, 0)] });
    b.message(15, { measurements: [contact(15, null)] });
    b.message(20, { measurements: [contact(20, 1)] });
    expect(changed()).toBe(at(5));
  });
});
