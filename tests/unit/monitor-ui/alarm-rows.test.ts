import type { AlarmView } from "@drumlin/gateway/contract";
import { expect, it } from "vitest";
import { inLines } from "../../../monitor-ui/src/data/alarm-rows.ts";

const alarm = (condition: string, subject: string, state: AlarmView["state"] = "unacknowledged") =>
  ({ key: `${condition}:${subject}`, condition, subject, state }) as AlarmView;
const shown = (alarms: readonly AlarmView[]) =>
  inLines(alarms).map(({ alarm: { key }, count }) => [key, count]);

it("floats that are due for a test stand in one line, where the first of them does; all else has one of its own", () => {
  expect(
    shown([
      alarm("frost", "hall/t"),
      alarm("float-unproven", "fresh.overflow"),
      alarm("drum-low", "mix"),
      alarm("float-unproven", "mix.stop", "acknowledged"),
      alarm("float-unproven", "mix.low"),
    ]),
  ).toEqual([
    ["frost:hall/t", 1],
    ["float-unproven:fresh.overflow", 3],
    ["drum-low:mix", 1],
  ]);
});

it("one that was proved meanwhile waits to be seen in a line of its own", () => {
  expect(
    shown([
      alarm("float-unproven", "fresh.overflow"),
      alarm("float-unproven", "mix.stop", "returned-unacknowledged"),
    ]),
  ).toEqual([
    ["float-unproven:fresh.overflow", 1],
    ["float-unproven:mix.stop", 1],
  ]);
});
