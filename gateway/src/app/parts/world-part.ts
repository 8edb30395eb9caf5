import { statfs } from "node:fs/promises";
import type { Broker } from "../../broker/index.ts";
import type { Journal } from "../../journal/index.ts";
import type { Clock } from "../clock.ts";
import { definePart, type Giving, type Part, type Parts } from "../parts.ts";
import { createWorldFacts } from "../world-facts.ts";

const lookEveryMs = 1000;
const lookAtDiskEveryMs = 60_000;

interface WorldPartNeeds {
  readonly data: string;
  readonly clock: Clock;
  readonly journal: Giving<Journal>;
  readonly broker: Giving<Broker>;
  readonly health: Parts["health"];
}

/** What only the gateway sees, written into the journal when it changes: its broker, its disk, its parts. */
export function worldPart({ data, clock, journal, broker, health }: WorldPartNeeds): Part {
  const timers: NodeJS.Timeout[] = [];
  return definePart("world", {
    start() {
      const world = createWorldFacts(journal.it, clock.engineMs);
      const troubled = new Set<string>();
      const look = () => {
        // An embedded broker is never away; saying so at each start would say nothing.
        if (!broker.it.isConnected() || troubled.has("broker"))
          world.say({ part: "broker", fact: "connected", value: broker.it.isConnected() });
        if (!broker.it.isConnected()) troubled.add("broker");
        for (const { part, state } of health()) {
          if (state !== "good") troubled.add(part);
          if (troubled.has(part)) world.say({ part, fact: "state", value: state });
        }
        world.look();
      };
      const lookAtDisk = async () => {
        const { bavail, blocks } = await statfs(data);
        world.say({ part: "disk", fact: "free-percent", value: Math.floor((100 * bavail) / blocks) });
      };
      const disk = () => void lookAtDisk().catch(() => {});
      disk();
      timers.push(setInterval(look, lookEveryMs), setInterval(disk, lookAtDiskEveryMs));
    },
    stop() {
      for (const timer of timers) clearInterval(timer);
    },
  });
}
