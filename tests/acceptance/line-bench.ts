import { deserialize, serialize } from "node:v8";
import type { Act } from "@drumlin/gateway/acts";
import type { AlarmChange } from "@drumlin/gateway/alarms";
import { createPipeline, type Outcome, type PathSnapshot } from "@drumlin/gateway/app";
import { learnedCell, waterCell } from "@drumlin/gateway/fills";
import type { Records } from "@drumlin/gateway/path";
import { LivedPath } from "./lived-path.ts";
import { nodeSays, pressPack } from "./node-says.ts";

/** Begin of every written test line, epoch ms. */
export const beginMs = Date.UTC(2026, 2, 3, 4, 0, 0);

/** A line with a flow meter behind resin, its node `press` sending a pack each 5 s. */
export const testLine = `drumlin: 1
site: saltmarsh-house
points:
  supply: { conductivity: press/ec-1, temperature: press/t-1 }
  after-resin: { conductivity: press/ec-2, temperature: press/t-2 }
stages:
  resin: { kind: resin, from: supply, to: after-resin, vessel: 2 L, pipe: 0.2 L, flow: press/flow-1 }
drums:
  mix: { volume: 200 L, fed_by: after-resin, control: manual, stop: drums/float-2, floats: { overflow: drums/float-3 } }
`;

/** Benches speak of the water: nodes fall silent between two of their packs wherever a test is not about them. */
const isOfWater = ({ condition }: { readonly condition: string }) =>
  condition !== "node-silent" && condition !== "site-silent";

/** Drives the whole pure path on a fake clock; time is told in seconds since `beginMs`. */
export function createLineBench(yaml = testLine) {
  const path = new LivedPath(beginMs);
  let seq = 0;
  const outcomes: Outcome[] = [];
  const changes: AlarmChange[] = [];
  const take = (outcome: Outcome) => {
    outcomes.push(outcome);
    if (outcome.kind === "alarm" && isOfWater(outcome.alarm)) changes.push(outcome);
  };
  const entries: Parameters<ReturnType<typeof createPipeline>["push"]>[0][] = [];
  const push = (given: object, atS: number) => {
    seq += 1;
    const entry = { seq, receivedAt: beginMs + atS * 1000, ...given } as (typeof entries)[number];
    entries.push(entry);
    path.push(entry, take);
  };
  push({ kind: "start", version: "test", instance: "test" }, 0);
  push({ kind: "line", yaml }, 0);
  let acts = 0;
  const alarms = () => [...changes];
  return {
    outcomes,
    /** What was journaled. */
    entries: entries as readonly (typeof entries)[number][],
    alarms,
    /** "normal>unacknowledged raised" for each change that is not only about judging. */
    story: () =>
      alarms().flatMap(({ from, to, why, annunciated }) =>
        why !== "judged" && why !== "not-judged" ? [`${from}>${to} ${why}${annunciated ? "!" : ""}`] : [],
      ),
    standing: () => path.pipeline().standing().filter(isOfWater),
    node(node: string, records: readonly Record<string, unknown>[], atS: number) {
      push(nodeSays(node, "readings", records), atS);
    },
    presence(node: string, said: object, atS: number) {
      push(nodeSays(node, "presence", said), atS);
    },
    /** Packs each 5 s of [fromS, toS): κ after resin at 25 °C in uS/cm, flow in L/min. */
    water(fromS: number, toS: number, kappa25: number, flowLPerMin: number) {
      for (let at = fromS; at < toS; at += 5)
        this.node("press", pressPack({ kappa: kappa25, flowLPerMin }), at);
    },
    act(act: object, atS: number) {
      acts += 1;
      push({ kind: "act", act: { id: `act-${acts}`, by: "keeper", ...act } as Act }, atS);
      const done = outcomes.findLast((outcome) => outcome.kind === "act-done");
      return done?.kind === "act-done" ? (done.refused?.code ?? null) : null;
    },
    line: (next: string, atS: number) => push({ kind: "line", yaml: next }, atS),
    tick: (atS: number) => push({ kind: "tick" }, atS),
    /** What only the gateway sees of the world, such as a step of its clock. */
    world: (part: string, fact: string, value: number, atS: number) =>
      push({ kind: "world", part, fact, value }, atS),
    /** The gateway stops and starts again from its checkpoint, as it lies on disk; `timeByWall`: on another run of the machine. */
    restart(atS: number, timeByWall = false) {
      const saved = deserialize(serialize(path.pipeline().snapshot()));
      const pipeline = createPipeline();
      pipeline.restore(saved);
      path.replace(pipeline);
      push({ kind: "start", version: "test", instance: "test", timeByWall }, atS);
    },
    /**
     * Its checkpoint is lost: it begins again with what the logbook knows and what was journaled from `journalS` on, or goes on from an
     * earlier one with what was journaled since.
     */
    beginAgain(atS: number, from: Records | PathSnapshot, journalS = Number.POSITIVE_INFINITY) {
      const pipeline = createPipeline();
      if ("last" in from) {
        pipeline.resume(null, from);
        for (const entry of entries)
          if (entry.receivedAt >= beginMs + journalS * 1000) pipeline.push(entry, () => {});
      } else {
        pipeline.restore(from);
        for (const entry of entries) if (entry.seq > from.seq) pipeline.push(entry, () => {});
      }
      path.replace(pipeline);
      push({ kind: "start", version: "test", instance: "test" }, atS);
    },
    /** The blend that a drum's card shows now, uS/cm. */
    shownBlend: (drum: string) => path.pipeline().board.get(waterCell, drum)?.blend25 ?? null,
    /** The share of a drum's water that its card shows now as unwatched, 0 to 1. */
    shownUnwatched: (drum: string) => path.pipeline().board.get(waterCell, drum)?.unwatched ?? null,
    /** So many whole fills and calls does all that is shown and told of a drum count as known. */
    shownLessons(drum: string) {
      const { fills = [], callsMs = [] } = path.pipeline().board.get(learnedCell, drum) ?? {};
      return { fills: fills.length, calls: callsMs.length };
    },
    snapshot: () => JSON.stringify(path.pipeline().snapshot()),
    /** The rows of a checkpoint, as they come back from disk. */
    saved: (): PathSnapshot => deserialize(serialize(path.pipeline().snapshot())),
  };
}
