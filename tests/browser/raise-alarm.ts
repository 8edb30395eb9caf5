import type { AlarmView } from "@drumlin/gateway/contract";
import type { Fixture, startFixtureServer } from "./fixture-server.ts";

/** Raises an alarm on every open page, and in what the gateway answers. */
export function raiseAlarm(
  fixture: Fixture,
  server: Awaited<ReturnType<typeof startFixtureServer>>,
  alarm: AlarmView,
): void {
  fixture.alarms = [...fixture.alarms, alarm];
  server.tell({
    event: "alarm",
    data: {
      id: `1/${alarm.key}/1`,
      at: new Date().toISOString(),
      from: "normal",
      to: "unacknowledged",
      why: "raised",
      by: null,
      annunciated: true,
      alarm,
    },
  });
}
