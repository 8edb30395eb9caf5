import type { Accounts } from "@drumlin/gateway/accounts";
import type { HttpComponents } from "@drumlin/gateway/http";

/** The rest of a gateway that has nothing yet: no line, no alarms, not ready. */
export function noComponents(accounts: Accounts): HttpComponents {
  return {
    lineView: () => null,
    line: () => null,
    standing: () => [],
    alarmChanges: () => [],
    alarmChangesAfter: () => [],
    rejections: () => [],
    series: { buckets: () => Promise.reject(new Error("not asked")) },
    act: async () => ({ code: "no-such-alarm", message: "It does not stand." }),
    acts: () => [],
    actsOf: () => [],
    fills: () => [],
    fill: () => null,
    accounts,
    subscribe: () => () => {},
    lastSeq: () => 0,
    ready: () => false,
    metrics: () => [],
    now: () => 0,
  };
}
