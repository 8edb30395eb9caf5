import { workCell } from "../../alarms/index.ts";
import {
  type Batch,
  backFlowCell,
  backFlowPlaces,
  bandNow25,
  batchCell,
  chlorineCell,
  chlorineFailsFrom,
  fillCell,
  floatCell,
  freeChlorineTells,
  guardCell,
  guardFigures,
  learnedCell,
  nothingLearned,
  runCell,
  waterCell,
  witnessCell,
} from "../../fills/index.ts";
import { type DrumView, fillView, type LineView, proofView, runningProofView } from "../../http/index.ts";
import { compileLine, type Drum, type Line } from "../../line/index.ts";
import { latestCell, proofCell } from "../../measurements/index.ts";
import { nodeCell } from "../../readings/index.ts";
import { median } from "../../statistics/index.ts";
import { fillTurned, proofTurned } from "../in-calendar.ts";
import { type DrumFacts, drumView } from "./drum-view.ts";
import { nodeViews } from "./node-view.ts";
import { pointView } from "./point-view.ts";
import { currentOf, iso, type Looking, quantitiesOf, quantityView } from "./quantity-view.ts";

function isFedAlone(line: Line, drum: Drum): boolean {
  return line.drums.every((other) => other.id === drum.id || other.fedBy !== drum.fedBy);
}

/** By the drum's own meter, else by the run at the point that feeds it alone, L/min. */
function flowInto(looking: Looking, line: Line, drum: Drum): number | null {
  const own = currentOf(looking, `drum/${drum.id}/flow`);
  if (own) return own.measurement.value;
  return isFedAlone(line, drum) ? (looking.board.get(runCell, drum.fedBy)?.flowLPerMin ?? null) : null;
}

function isInflowKnown(looking: Looking, line: Line, drum: Drum): boolean {
  const run = looking.board.get(runCell, drum.fedBy);
  if (run?.flowing === false) return true;
  const own = [`drum/${drum.id}/flow`, `drum/${drum.id}/volume`, `inlet/${drum.id}/state`];
  const isHeard = own.some((series) => (currentOf(looking, series)?.measurement.value ?? null) !== null);
  return isHeard || (run?.flowing === true && isFedAlone(line, drum));
}

/** Whether anything still tells of a fill that is open: nothing that was heard long ago says that water runs now. */
function isFillHeard(looking: Looking, line: Line, drum: Drum): boolean {
  if (isInflowKnown(looking, line, drum) || looking.board.get(runCell, drum.fedBy)?.flowing === true)
    return true;
  const isWatched = drum.level !== null || drum.inlet !== null || drum.floats.length > 0;
  return !isWatched || drum.floats.some(({ id }) => currentOf(looking, `float/${id}/state`) !== undefined);
}

function saidFillingMs({ board }: Looking, { id, control }: Drum): number | null {
  const person = board.get(witnessCell, id)?.person;
  return control === "manual" && person?.flowing ? person.sinceMs : null;
}

/** How often a drum's level is read, or its stop float where it has none, ms; null: not heard yet. */
function readEachMs({ board }: Looking, { id, level }: Drum): number | null {
  const said = board.get(witnessCell, id);
  const read = level ? said?.level : said?.stop;
  return read && read.lastMs !== null && read.lastMs > 0 ? read.periodMs : null;
}

function floatFacts(looking: Looking, float: string): ReturnType<DrumFacts["float"]> {
  const { board, at } = looking;
  const now = board.get(floatCell, float);
  const { running = null, last = null } = board.get(proofCell, float) ?? {};
  const turned = running && {
    ...running,
    startedAtMs: at(running.startedAtMs),
    dueMs: at(running.dueMs),
    saw: running.saw.map((sight) => ({ ...sight, tMs: at(sight.tMs) })),
  };
  return {
    test: turned && runningProofView(turned),
    lastTest: last && proofView(proofTurned(last, at)),
    lastProvenAt: iso(looking, now?.provedAtMs ?? null),
    provenBy: now?.provedBy ?? null,
    dueAt: iso(looking, now?.dueAtMs ?? null),
    trip: now && now.tripsL.length > 0 ? median(now.tripsL) : null,
  };
}

/** A drum's batch; a salinity that its probe said before it fell silent is none of now. */
function batchOf(looking: Looking, drum: string): Batch | null {
  const batch = looking.board.get(batchCell, drum) ?? null;
  if (batch?.salinityBy !== "probe") return batch;
  const isHeard = quantityView(looking, "drum", drum, "conductivity25").value !== null;
  return isHeard ? batch : { ...batch, salinity: null };
}

/** A drum as its card shows it, from the board. */
export function viewOfDrum(looking: Looking, line: Line, drum: Drum): DrumView {
  const { board, nowMs } = looking;
  const learned = board.get(learnedCell, drum.id) ?? nothingLearned();
  const floatSeries = (id: string) => `float/${id}/state`;
  return drumView(drum, {
    volume: quantityView(looking, "drum", drum.id, "volume"),
    fill: board.get(fillCell, drum.id) ?? null,
    water: board.get(waterCell, drum.id) ?? null,
    batch: batchOf(looking, drum.id),
    learned,
    saidFillingMs: saidFillingMs(looking, drum),
    flowLPerMin: flowInto(looking, line, drum),
    inflowKnown: isInflowKnown(looking, line, drum),
    fillHeard: isFillHeard(looking, line, drum),
    quantities: quantitiesOf(looking, "drum", drum.id),
    guard: guardFigures(line, drum, {
      learned,
      seenFlowLPerMin: board.get(witnessCell, drum.id)?.greatestFlowLPerMin ?? null,
      readEachMs: readEachMs(looking, drum),
      isOverflowProved: (board.get(guardCell, drum.id)?.guardedBy ?? []).includes("overflow"),
    }),
    band25: bandNow25(line, drum.id, board),
    chlorine: board.get(chlorineCell, drum.id) ?? null,
    disinfected: line.disinfectant !== "none",
    nowMs,
    iso: ((ms: number | null) => iso(looking, ms)) as DrumFacts["iso"],
    fillView: (fill) => fillView(fillTurned(fill, looking.at)),
    floatState: (id) => currentOf(looking, floatSeries(id))?.measurement.value ?? null,
    float: (id) => floatFacts(looking, id),
    changedAtMs: (id) => board.get(latestCell, floatSeries(id))?.changedAtMs ?? null,
  });
}

function removalOf(looking: Looking, from: string, to: string): number | null {
  const feed = quantityView(looking, "point", from, "conductivity25").value;
  const out = quantityView(looking, "point", to, "conductivity25").value;
  return feed && out !== null ? Math.max(0, 1 - out / feed) : null;
}

/** Since when water is known to have come back into a stage; nothing where it is not. */
function cameBack(looking: Looking, line: Line, stage: string): { readonly cameBack?: string } {
  for (const { point, stages } of backFlowPlaces(line).values()) {
    const found = stages.includes(stage) ? looking.board.get(backFlowCell, point) : undefined;
    if (found) return { cameBack: iso(looking, found.sinceMs) };
  }
  return {};
}

/** Nodes that the line file names and that were never heard, each with what it should say. */
function neverHeard({ board }: Looking, line: Line): LineView["waitsFor"] {
  return [...compileLine(line).slotsOfNode]
    .filter(([node]) => board.get(nodeCell, node) === undefined)
    .map(([node, slots]) => ({ node, channels: slots.map(({ name }) => name) }));
}

/** Work in progress, in the order in which it began. */
const workViews = (looking: Looking): LineView["work"] =>
  [...looking.board.entries(workCell)]
    .map(([, work]) => work)
    .sort((a, b) => a.sinceMs - b.sinceMs)
    .map(({ subject, by, sinceMs, untilMs, isForgotten: forgotten }) => ({
      ...subject,
      by,
      since: iso(looking, sinceMs),
      until: iso(looking, untilMs),
      forgotten,
    }));

/** The whole line as it is now. */
export function lineView(looking: Looking, line: Line, simulated: boolean): LineView {
  return {
    site: line.site,
    title: line.title,
    timezone: line.timezone,
    simulated,
    now: iso(looking, looking.nowMs),
    solids: line.solids.kind === "factor" ? line.solids.mgPerLPerUsPerCm : null,
    chlorine: { failsFrom: chlorineFailsFrom, freeTells: freeChlorineTells(line.disinfectant) },
    points: line.points.map((point) => pointView(looking, line, point)),
    stages: line.stages.map(({ id, title, kind, from, to }) => ({
      id,
      title,
      kind,
      from,
      to,
      removal: removalOf(looking, from, to),
      ...cameBack(looking, line, id),
    })),
    drums: line.drums.map((drum) => viewOfDrum(looking, line, drum)),
    nodes: nodeViews(looking, line),
    waitsFor: neverHeard(looking, line),
    work: workViews(looking),
  };
}
