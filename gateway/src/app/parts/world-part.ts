import { statfs } from "node:fs/promises";
import type { Broker } from "../../broker/index.ts";
import type { Journal } from "../../journal/index.ts";
import { compileLine } from "../../line/index.ts";
import { worldCell, worldKey } from "../../readings/index.ts";
import type { Clock } from "../clock.ts";
import { createDaysLeft } from "../days-left.ts";
import { definePart, type Giving, type Part, type Parts } from "../parts.ts";
import { createRefusedShares } from "../refused-shares.ts";
import { createWorldFacts } from "../world-facts.ts";
import type { RunningPath } from "./path-part.ts";

const lookEveryMs = 1000;
const lookAtDiskEveryMs = 60_000;
const lookAtNodesEveryMs = 60_000;
const farDays = 60;

interface WorldPartNeeds {
  readonly data: string;
  readonly clock: Clock;
  readonly journal: Giving<Journal>;
  readonly path: Giving<RunningPath>;
  readonly broker: Giving<Broker>;
  readonly health: Parts["health"];
}

/** What only the gateway sees, written into the journal when it changes: its broker, its disk, its parts, refusals. */
export function worldPart({ data, clock, journal, path, broker, health }: WorldPartNeeds): Part {
  const timers: NodeJS.Timeout[] = [];
  return definePart("world", {
    start() {
      const world = createWorldFacts(journal.it, clock.engineMs);
      const troubled = new Set<string>();
      const daysLeft = createDaysLeft();
      const { board } = path.it.pipeline;
      const refused = (node: string) => ({ part: "refused", fact: node });
      const refusedShares = createRefusedShares(
        board,
        (node) => board.get(worldCell, worldKey(refused(node))) !== undefined,
      );
      const lookAtNodes = () => {
        const line = path.it.pipeline.line();
        const nodes = line ? compileLine(line).slotsOfNode.keys() : [];
        for (const [node, value] of refusedShares(clock.engineMs(), nodes))
          world.say({ ...refused(node), value });
      };
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
        const { bavail, blocks, bsize } = await statfs(data);
        world.say({ part: "disk", fact: "free-percent", value: Math.floor((100 * bavail) / blocks) });
        const days = daysLeft(clock.engineMs(), bavail * bsize);
        // Weeks are far: only what can become an alarm is worth an entry.
        world.say({ part: "disk", fact: "days-left", value: days !== null && days <= farDays ? days : null });
      };
      const disk = () => void lookAtDisk().catch(() => {});
      disk();
      timers.push(
        setInterval(look, lookEveryMs),
        setInterval(disk, lookAtDiskEveryMs),
        setInterval(lookAtNodes, lookAtNodesEveryMs),
      );
    },
    stop() {
      for (const timer of timers) clearInterval(timer);
    },
  });
}
