import type { Broker } from "../../broker/index.ts";
import type { Journal } from "../../journal/index.ts";
import { compileLine } from "../../line/index.ts";
import { worldCell, worldKey } from "../../readings/index.ts";
import type { Clock } from "../clock.ts";
import { createDaysLeft, createFullSoon } from "../days-left.ts";
import { type DiskSpace, diskSpaceOf } from "../disk-space.ts";
import { definePart, type Giving, type Part, type Parts } from "../parts.ts";
import { createRefusedShares } from "../refused-shares.ts";
import { createWorldFacts } from "../world-facts.ts";
import type { RunningPath } from "./path-part.ts";

const lookEveryMs = 1000;
/** A disk may fill within a minute, and what tells of it needs room too. */
const lookAtDiskEveryMs = 2000;
const lookAtDaysEveryMs = 60_000;
/** Under so much free it is told at once, percent; a change by less than so many points is none. */
const urgentPercent = 5;
const leastChange = 0.2;
const lookAtNodesEveryMs = 60_000;
const farDays = 60;

interface WorldPartNeeds {
  readonly data: string;
  /** The space of the data folder's disk, where somebody else tells it. */
  readonly disk?: () => Promise<DiskSpace>;
  readonly clock: Clock;
  readonly journal: Giving<Journal>;
  readonly path: Giving<RunningPath>;
  readonly broker: Giving<Broker>;
  readonly health: Parts["health"];
}

/** Says what a broker of somebody else is like, from its first trouble on; an embedded one has none. */
function createBrokerLook(
  broker: Broker,
  world: ReturnType<typeof createWorldFacts>,
  board: RunningPath["pipeline"]["board"],
): () => void {
  // What an earlier run said and is over is taken back, and nobody else does that.
  const said = (fact: string) => board.get(worldCell, worldKey({ part: "broker", fact }))?.value;
  let wasAway = said("connected") === false;
  let didRefuse = (said("refuses") ?? null) !== null;
  return () => {
    const isConnected = broker.isConnected();
    const refuses = broker.refuses();
    wasAway ||= !isConnected;
    didRefuse ||= refuses !== null;
    if (wasAway) world.say({ part: "broker", fact: "connected", value: isConnected });
    // While it is away nothing new is known of what it refuses.
    if (didRefuse && isConnected) world.say({ part: "broker", fact: "refuses", value: refuses });
  };
}

/** What only the gateway sees, written into the journal when it changes: its broker, its disk, its parts, refusals. */
export function worldPart({ data, clock, journal, path, broker, health, ...needs }: WorldPartNeeds): Part {
  const { disk = () => diskSpaceOf(data) } = needs;
  const timers: NodeJS.Timeout[] = [];
  return definePart("world", {
    start() {
      const world = createWorldFacts(journal.it, clock.engineMs);
      const troubled = new Set<string>();
      const { board } = path.it.pipeline;
      const lookAtBroker = createBrokerLook(broker.it, world, board);
      const daysLeft = createDaysLeft();
      const fullSoon = createFullSoon();
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
        lookAtBroker();
        for (const { part, state } of health()) {
          if (state !== "good") troubled.add(part);
          if (troubled.has(part)) world.say({ part, fact: "state", value: state });
        }
        world.look();
      };
      let [saidPercent, daysAtMs] = [Number.NaN, Number.NEGATIVE_INFINITY];
      let days: number | null = null;
      const lookAtDisk = async () => {
        const space = await disk();
        const nowMs = clock.engineMs();
        const percent = (100 * space.freeBytes) / space.allBytes;
        if (!(Math.abs(percent - saidPercent) < leastChange)) {
          saidPercent = percent;
          const value = Math.floor(percent);
          world.say({ part: "disk", fact: "free-percent", value }, percent < urgentPercent);
        }
        if (nowMs - daysAtMs >= lookAtDaysEveryMs) {
          daysAtMs = nowMs;
          const left = daysLeft(nowMs, space.freeBytes);
          // Weeks are far: only what can become an alarm is worth an entry.
          days = left !== null && left <= farDays ? left : null;
        }
        const isSoon = fullSoon(nowMs, space);
        world.say({ part: "disk", fact: "days-left", value: isSoon ? 0 : days }, isSoon);
      };
      let isLooking = false;
      // A disk that does not answer is asked once, not again and again. One that answers with an error is asked in the next
      // look; that it takes nothing is told by who writes to it.
      const lookedAtDisk = () => {
        if (isLooking) return;
        isLooking = true;
        void lookAtDisk()
          .catch(() => {})
          .finally(() => {
            isLooking = false;
          });
      };
      lookedAtDisk();
      timers.push(
        setInterval(look, lookEveryMs),
        setInterval(lookedAtDisk, lookAtDiskEveryMs),
        setInterval(lookAtNodes, lookAtNodesEveryMs),
      );
    },
    stop() {
      for (const timer of timers) clearInterval(timer);
    },
  });
}
