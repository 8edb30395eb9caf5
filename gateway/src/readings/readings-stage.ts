import type { Hears, Stage, StageContext } from "../path/index.ts";
import { clockOffsetOf } from "./clock-offset.ts";
import type { MessageEntry, StartEntry, WorldEntry } from "./entry.ts";
import { afterPack, afterPresence, afterRejection, afterValue, type NodeNow, nodeCell } from "./node-now.ts";
import { NodePacks } from "./node-packs.ts";
import type { NodePresence } from "./reading.ts";
import { Readings, type ReadingsOutcome, type ReadingsState } from "./readings.ts";
import { SeenPacks } from "./repeats.ts";
import type { SavedNode } from "./saved-node.ts";
import { startsAfter } from "./starts-unheard.ts";
import type { WaitingPack } from "./waiting-pack.ts";

type Context = StageContext<ReadingsOutcome>;
type Heard = MessageEntry | WorldEntry | StartEntry;

const waitingDeadline = "waiting";
/** The row of the calendar's offset; a node's name has no slash. */
const offsetRow = "clock/offset-ms";

/** Packs of a node that wait, in the order in which they came. */
function waitingOf(node: string, rows: ReadonlyMap<string, unknown>): WaitingPack[] {
  const prefix = `wait ${node} `;
  return [...rows]
    .flatMap(([key, plain]) => (key.startsWith(prefix) ? [plain as WaitingPack] : []))
    .sort((a, b) => a.seq - b.seq);
}

function putNode(ctx: Context, node: string, after: (known: NodeNow | undefined) => NodeNow): void {
  const known = ctx.get(nodeCell, node);
  const next = after(known);
  if (next !== known) ctx.put(nodeCell, node, next);
}

/** Brings what is known of a node forward by what came of a message. */
function keep(outcome: ReadingsOutcome, ctx: Context): void {
  switch (outcome.kind) {
    case "pack":
      putNode(ctx, outcome.node, (known) => afterPack(known, outcome));
      return;
    case "presence":
      putNode(ctx, outcome.node, (known) => afterPresence(known, outcome));
      return;
    case "rejection": {
      const { node, code } = outcome;
      // Beyond the nodes that are followed, only known ones are counted: names can be made up without end.
      if (node !== null && (code !== "nodes-too-many" || ctx.get(nodeCell, node)))
        putNode(ctx, node, (known) => afterRejection(known, outcome.seq));
      return;
    }
    case "reading":
      if (outcome.unit === null)
        putNode(ctx, outcome.node, (known) => afterValue(known, outcome.receivedAtMs));
      return;
  }
}

/** Goes on from rows. Version 0 kept everything under one key. */
function loadRows(readings: Readings, rows: ReadonlyMap<string, unknown>, fromVersion: number): void {
  if (fromVersion === 0)
    for (const [node, saved] of Object.entries((rows.get("all") as ReadingsState).nodes))
      readings.restore(node, new NodePacks({ ...saved, seen: [] }, new SeenPacks(saved.seen)));
  for (const [key, plain] of rows) {
    const [what, node = ""] = key.split(" ");
    if (key === offsetRow) readings.useOffset(plain as number);
    else if (what === "node") {
      const saved = plain as SavedNode;
      const pageOf = (boot: number, page: number) =>
        rows.get(`seen ${node} ${boot} ${page}`) as Uint32Array | undefined;
      readings.restore(node, new NodePacks(saved, SeenPacks.of(saved.seen, pageOf), waitingOf(node, rows)));
    }
  }
}

/**
 * The path's first stage: messages to readings, presences, packs and rejections; what is known of each node.
 * `maxWaitingBytes`: what packs that wait for their time may take in memory.
 */
export function createReadingsStage(maxWaitingBytes?: number): Stage<Heard, ReadingsOutcome> {
  const readings = new Readings(maxWaitingBytes);
  let changedOffsetMs: number | null = null;

  const emitTo = (ctx: Context) => (outcome: ReadingsOutcome) => {
    keep(outcome, ctx);
    ctx.tell(outcome);
  };
  const arm = (ctx: Context) => ctx.wakeAt(waitingDeadline, readings.nextDeadline());

  const hears: Hears<Heard, ReadingsOutcome> = {
    start({ timeByWall, receivedAt }, ctx) {
      if (timeByWall) readings.doubtClocks();
      for (const [node, known] of [...ctx.entries(nodeCell)]) {
        const starts = startsAfter(known, ctx.nowMs, receivedAt);
        if (starts !== known.starts) ctx.put(nodeCell, node, { ...known, starts });
      }
    },
    message(entry, ctx) {
      readings.push(entry, ctx.nowMs, emitTo(ctx));
      arm(ctx);
    },
    world(entry) {
      const offsetMs = clockOffsetOf(entry);
      if (offsetMs === null) return;
      readings.useOffset(offsetMs);
      changedOffsetMs = offsetMs;
    },
  };

  return {
    name: "readings",
    version: 1,
    owns: [nodeCell],
    reads: [],
    hears,
    stepMs: (outcome) => (outcome.kind === "reading" ? outcome.tMs : null),
    useLine(line) {
      readings.useSite(line.site);
      readings.useForeign(line.foreign);
    },
    wake(_key, ctx) {
      readings.pass(ctx.nowMs, emitTo(ctx));
      arm(ctx);
    },
    *dirty() {
      yield* readings.dirty();
      if (changedOffsetMs !== null) yield [offsetRow, changedOffsetMs];
      changedOffsetMs = null;
    },
    load(rows, fromVersion, ctx) {
      if (fromVersion > 1) return false;
      loadRows(readings, rows, fromVersion);
      arm(ctx);
      return true;
    },
    seed(records, ctx) {
      const [offsetMs] = records.last("clock-offset");
      if (typeof offsetMs === "number") readings.useOffset(offsetMs);
      for (const presence of records.last("presence") as readonly NodePresence[])
        if (!ctx.get(nodeCell, presence.node))
          putNode(ctx, presence.node, (known) => afterPresence(known, presence));
    },
  };
}
