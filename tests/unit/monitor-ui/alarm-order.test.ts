import type { AlarmView } from "@drumlin/gateway/contract";
import { describe, expect, it } from "vitest";
import { orderedAlarms } from "../../../monitor-ui/src/data/alarm-order.ts";

function alarm(key: string, attention: AlarmView["attention"], state: AlarmView["state"], minute: number) {
  const at = new Date(Date.UTC(2031, 4, 5, 3, minute)).toISOString();
  return {
    key,
    attention,
    state,
    raisedAt: at,
    judged: { now: true, because: null, since: at },
  } as AlarmView;
}
const keys = (alarms: readonly AlarmView[]) => alarms.map(({ key }) => key).join(" ");

describe("the order of standing alarms", () => {
  const seenWake = alarm("seen-wake", "wake", "acknowledged", 1);
  const today = alarm("today", "today", "unacknowledged", 2);
  const tell = alarm("tell", "tell", "unacknowledged", 3);
  const laterTell = alarm("later-tell", "tell", "unacknowledged", 4);
  const wake = alarm("wake", "wake", "unacknowledged", 0);
  const endedWake = alarm("ended-wake", "wake", "latched-unacknowledged", 6);
  const endedTell = alarm("ended-tell", "tell", "returned-unacknowledged", 7);
  const endedSeen = alarm("ended-seen", "wake", "latched-acknowledged", 8);
  const silent = alarm("silent", "wake", "shelved", 9);

  it("not seen first, then attention, then the newest", () => {
    expect(keys(orderedAlarms([seenWake, today, tell, laterTell, wake], [], false))).toBe(
      "wake later-tell tell today seen-wake",
    );
  });

  it("what goes on comes before what has ended, however urgent that was; what was made silent comes last", () => {
    expect(keys(orderedAlarms([silent, endedSeen, endedTell, endedWake, seenWake, today], [], false))).toBe(
      "today seen-wake ended-wake ended-tell ended-seen silent",
    );
  });

  it("a finger on the list: the ones that stood keep their places, a new one comes below", () => {
    const before = ["tell", "today"];
    expect(keys(orderedAlarms([today, tell, wake], before, true))).toBe("tell today wake");
    expect(keys(orderedAlarms([today, tell, wake], before, false))).toBe("wake tell today");
  });

  it("held or not, each alarm stands once and none that ended", () => {
    expect(keys(orderedAlarms([today], ["tell", "today"], true))).toBe("today");
  });
});
