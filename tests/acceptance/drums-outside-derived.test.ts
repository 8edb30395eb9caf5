import { expect, it } from "vitest";
import type { LifeStep } from "../golden/house-life.ts";
import { livedTwice } from "./lived-twice.ts";
import type { Lived, Plan } from "./outside-life.ts";
import {
  at,
  away,
  back,
  counting,
  drawn,
  draws,
  isFillingAt,
  kits,
  released,
  restart,
  usual,
  when,
} from "./outside-plans.ts";

const downMs = 4000;

/** What a life left in the journal, as it would have happened to a gateway. */
function stepsOf({ bench }: Lived): LifeStep[] {
  return bench.entries.slice(1).flatMap((entry): LifeStep[] => {
    const atMs = entry.receivedAt;
    if (entry.kind === "message")
      return [{ what: "message", atMs, topic: entry.topic, text: new TextDecoder().decode(entry.payload) }];
    if (entry.kind === "line") return [{ what: "line", atMs, yaml: entry.yaml }];
    if (entry.kind === "tick") return [{ what: "tick", atMs }];
    if (entry.kind === "start") return [{ what: "restart", atMs: atMs - downMs, downMs }];
    if (entry.kind !== "act") return [];
    const { id: _, by: __, ...act } = entry.act as unknown as Record<string, unknown>;
    return [{ what: "act", atMs, act }];
  });
}

const another: Plan["events"][number] = at(400, (life, atS) => {
  life.house.good = 400;
  drawn(22, 60)(life, atS);
});

it.each([
  [
    "a fill ends while the gateway is down, and another one follows",
    kits.meter,
    0.4,
    [at(0, drawn(22)), ...when(100, isFillingAt(176), restart(480)), another],
  ],
  [
    "the router is away over a fill's end, the nodes count on",
    kits.both,
    0.6,
    [counting, at(0, drawn(22)), ...when(100, isFillingAt(179), away), at(1500, back), at(1560, drawn(22))],
  ],
  [
    "a large water change, then a float that sticks dry",
    kits.both,
    1.2,
    [
      at(0, drawn(100, 7.2)),
      at(2600, drawn(22)),
      at(2700, ({ tub }) => {
        tub.contact = () => false;
      }),
    ],
  ],
] as [string, string, number, Plan["events"]][])(
  "what is derived afterwards is what was told: %s",
  async (_says, kit, hours, events) => {
    const twice = await livedTwice(
      stepsOf(usual(kit, hours, events, [released(), ...draws(22, { times: 4, fromS: 3600 })])),
      60_000,
    );
    if (!twice) throw new Error("something came late");
    expect(twice.past).toEqual(twice.live);
    expect(twice.live.length).toBeGreaterThan(10_000);
  },
);
