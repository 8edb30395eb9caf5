import type { Accounts } from "@drumlin/gateway/accounts";
import type { HttpComponents } from "@drumlin/gateway/http";

/** The rest of a gateway that has nothing yet: no line, no alarms, not ready. */
export function noComponents(accounts: Accounts): HttpComponents {
  return {
    lineView: () => null,
    line: () => null,
    lineFile: {
      read: async () => ({ yaml: "", version: "", faults: [] }),
      save: async () => ({ ok: false, code: "no-line-file", message: "", faults: [] }),
      setLimit: async () => ({ ok: false, code: "no-line-file", message: "", faults: [] }),
      assign: async () => ({ ok: false, code: "no-line-file", message: "", faults: [] }),
      setNotify: async () => ({ ok: false, code: "no-line-file", message: "", faults: [] }),
      reload: async () => ({ ok: false, code: "no-line-file", message: "", faults: [] }),
    },
    standing: () => [],
    alarmChanges: () => [],
    alarmChangesIn: () => [],
    alarmChangesAfter: () => [],
    rejections: () => [],
    series: { buckets: () => Promise.reject(new Error("not asked")) },
    act: async () => ({ code: "no-such-alarm", message: "It does not stand." }),
    acts: () => [],
    actsOf: () => [],
    fills: () => [],
    fill: () => null,
    night: () => null,
    nights: () => [],
    proofs: () => [],
    notifications: {
      policy: () => null,
      publicKey: () => "",
      destinations: () => [],
      messages: () => [],
      test: async () => null,
      addDevice: () => false,
      dropDevice: () => false,
      seenLink: () => null,
      useSeenLink: () => false,
      beat: () => false,
      life: () => ({ lastMs: null, error: null }),
      counts: () => ({ sent: 0, dropped: 0, waiting: 0 }),
    },
    accounts,
    subscribe: () => () => {},
    lastSeq: () => 0,
    degraded: () => [],
    notReady: () => "The gateway is starting.",
    metrics: () => [],
    now: () => 0,
    elapsedMs: () => 0,
  };
}
