import type { AlarmChangeView } from "@drumlin/gateway/contract";
import { describe, expect, it } from "vitest";
import { storiesOf } from "../../../monitor-ui/src/data/alarm-stories.ts";

const change = (at: string, key: string) => ({ id: at + key, at, alarm: { key } }) as AlarmChangeView;

describe("what happened to alarms", () => {
  it("stands together by alarm and day, where the newest change stood; none is lost", () => {
    const changes = [
      change("2026-11-25T09:00:00Z", "resin-breakthrough:after-resin"),
      change("2026-11-25T08:00:00Z", "drum-low:mix"),
      change("2026-11-25T07:00:00Z", "resin-breakthrough:after-resin"),
      change("2026-11-24T07:00:00Z", "resin-breakthrough:after-resin"),
    ];
    const stories = storiesOf(changes);
    expect(stories.map(({ day, changes: own }) => [day, own.map(({ at }) => at.slice(11, 13))])).toEqual([
      ["2026-11-25", ["09", "07"]],
      ["2026-11-25", ["08"]],
      ["2026-11-24", ["07"]],
    ]);
    expect(stories.flatMap(({ changes: own }) => own)).toHaveLength(changes.length);
  });
});
