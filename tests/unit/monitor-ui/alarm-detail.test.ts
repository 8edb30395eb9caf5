import type { AlarmView } from "@drumlin/gateway/contract";
import { afterEach, beforeEach, expect, it } from "vitest";
import { detailOf, raisedValueOf, raisedWithOf } from "../../../monitor-ui/src/components/alarm-detail.ts";
import { choose, ofDevice } from "../../../monitor-ui/src/data/settings.ts";
import { gatewayAheadMs, heardMs, line, link, nowMs } from "../../../monitor-ui/src/data/state.ts";

const atMs = Date.UTC(2031, 4, 5, 18, 52);
const held = (litres: number | null) => ({
  id: "mix",
  title: "Mix drum",
  capacity: 200,
  floats: [],
  volume: { value: litres, at: new Date(atMs - 4000).toISOString() },
});
const holds = (litres: number | null) => {
  line.value = { timezone: "UTC", points: [], drums: [held(litres)] } as unknown as typeof line.value;
};
const overfull = {
  condition: "drum-high-high",
  subject: "mix",
  unit: "L",
  limit: 200,
  value: 239,
  raisedValue: 202.3,
  raisedAt: new Date(Date.UTC(2031, 4, 5, 18, 48)).toISOString(),
} as AlarmView;

beforeEach(() => {
  choose({ language: "en", numbers: "en-GB" });
  nowMs.value = atMs;
  heardMs.value = atMs;
  gatewayAheadMs.value = 0;
  link.value = { open: true, sinceMs: atMs };
  holds(239);
});
afterEach(() => {
  // Other files of this worker read the same state.
  ofDevice.value = null;
  line.value = null;
  nowMs.value = Date.now();
  heardMs.value = Date.now();
  link.value = { open: false, sinceMs: Date.now() };
});

it("an overfull drum's card names what it holds now, and what it held when the alarm was raised", () => {
  expect([detailOf(overfull), raisedWithOf(overfull)]).toEqual(["239 of 200 L now", "(202 at 18:48)"]);
});

it("what it held is left out where it is what it holds, and where nobody knows it", () => {
  holds(202);
  expect(raisedWithOf(overfull)).toBe("");
  expect(raisedWithOf({ ...overfull, raisedValue: null })).toBe("");
});

it("where the level is not heard, what it holds is not known; what it held then stays true", () => {
  nowMs.value = atMs + 600_000;
  heardMs.value = nowMs.value;
  expect([detailOf(overfull), raisedWithOf(overfull)]).toEqual(["contents not known now", "(202 at 18:48)"]);
});

it("litres that came in are never told as what the drum holds", () => {
  const notStopping = { ...overfull, condition: "drum-not-stopping", value: 31, raisedValue: 6 };
  expect([detailOf(notStopping), raisedWithOf(notStopping)]).toEqual(["239 of 200 L now", ""]);
});

it("what an alarm was raised with has a name where the figure alone does not say what it is", () => {
  const raised = (condition: string, value: number | null, unit: string) =>
    raisedValueOf({ condition, value, unit });
  expect(raised("float-disagrees", 11, "L")).toBe("11 L off its trip");
  expect(raised("node-silent", 12, "min")).toBe("nothing heard for 12 min");
  expect(raised("fill-long", 231, "L")).toBe("231 L in this fill");
  expect(raised("resin-breakthrough", 5.39, "uS/cm")).toBe("5.39 µS/cm");
  expect(raised("fill-long", null, "L")).toBe("");
});
