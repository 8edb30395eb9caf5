import { alarmCell } from "@drumlin/gateway/alarms";
import { createHistoryStages, createStages } from "@drumlin/gateway/app";
import { describe, expect, it } from "vitest";

/** What changes a word, litres or a hold is a fact or an act that an earlier stage hears: alarms announce, and no more. */
describe("no stage goes by an alarm", () => {
  const stages = [...createStages(), ...createHistoryStages().judging];
  it("none reads what stands, but the one that owns it", () => {
    expect(stages.filter(({ reads }) => reads.includes(alarmCell)).map(({ name }) => name)).toEqual([]);
    expect(new Set(stages.filter(({ owns }) => owns.includes(alarmCell)).map(({ name }) => name))).toEqual(
      new Set(["alarms"]),
    );
  });
  it("none hears that one was raised or is over", () => {
    expect(stages.filter(({ hears }) => "alarm" in hears).map(({ name }) => name)).toEqual([]);
  });
});
