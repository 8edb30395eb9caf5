import type { Act, ActRefused, ReleaseDrum, ReleaseUndo } from "../../acts/index.ts";
import { type Drum, type Line, stageInto } from "../../line/index.ts";
import { unchangedCell } from "../../measurements/index.ts";
import type { PathEvent, Records, Stage, StageContext } from "../../path/index.ts";
import { say } from "../../words/index.ts";
import { type BackFlow, type BackFlowPlace, backFlowPlaces } from "../back-flow/back-flow.ts";
import { type Batch, isSalted } from "../batch/batch.ts";
import {
  backFlowCell,
  batchCell,
  chlorineCell,
  feedCell,
  fillCell,
  inflowCell,
  learnedCell,
  waterCell,
  witnessCell,
} from "../cells.ts";
import type { Chlorine } from "../chlorine/chlorine.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { DrumWater, Fill } from "../fill.ts";
import type { DrumPlace } from "../record/drum-record.ts";
import { placesOf } from "../record/places.ts";
import { meterChannelOf } from "../witness/ways.ts";
import { litresIn, nothing, whole } from "./book.ts";
import { firstSight, takeLevel } from "./by-level.ts";
import { countFill, type TripKnown } from "./count-fill.ts";
import { type DrumWord, newDrumWord } from "./drum-word.ts";
import { refusalOf, release, undoRelease } from "./release.ts";
import { type Counted, endSilence, markKnown, unsaidTrip } from "./unseen.ts";
import { blendOf, notReadyKind, unwatchedShare, verdictOf } from "./verdict.ts";

type Context = StageContext<DrumWater>;
type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };
type Heard =
  | Fill
  | Batch
  | BackFlow
  | Chlorine
  | Acted
  | (PathEvent & { readonly kind: "current" | "gone" | "start" });

/** Band of a drum behind resin where the line gives none, uS/cm: CO2 of the air alone brings about 1. */
const pureBand25 = 10;
const membraneBandTimes = 1.2;
/** While a fill runs its blend is judged as if the drum were at least so full: first water into an empty drum is no fault. */
const leastFullShare = 0.2;

interface Words {
  line: Line | null;
  places: ReadonlyMap<string, DrumPlace>;
  /** Points through which water can be seen to come back. */
  comesBack: ReadonlyMap<string, BackFlowPlace>;
  words: Map<string, DrumWord>;
  readonly seen: Map<string, DrumWitnesses>;
  readonly changed: Set<string>;
}

function wordOf(all: Words, drum: Drum): DrumWord {
  let word = all.words.get(drum.id);
  if (!word) {
    word = newDrumWord(drum.volumeL);
    all.words.set(drum.id, word);
  }
  return word;
}

function bandOf(all: Words, { drum, feedAt }: DrumPlace, ctx: Context): number | null {
  if (drum.target.conductivity25UsPerCm !== null) return drum.target.conductivity25UsPerCm;
  const before = all.line && stageInto(all.line, drum.fedBy)?.kind;
  if (before === "resin") return pureBand25;
  if (before !== "membrane") return null;
  const feed = feedAt === null ? undefined : ctx.get(feedCell, feedAt);
  return membraneBandTimes * Math.max(5, 0.1 * (feed?.median25 ?? 0));
}

/** Puts the word on hold. `about`: an earlier reason that begins so is the same one, with the figure of then. */
function hold(word: DrumWord, reason: string, nowMs: number, about = reason): void {
  const known = word.heldFor.findIndex((text) => text.startsWith(about));
  if (known === -1) word.heldFor.push(reason);
  else word.heldFor[known] = reason;
  word.heldSinceMs ??= nowMs;
}

/** Water came back on the way to the drum, and nobody has answered for it, or water ran through there since. */
function holdForBackFlow(
  all: Words,
  { drum }: DrumPlace,
  word: DrumWord,
  fill: Fill | null,
  ctx: Context,
): void {
  for (const { point, title, drums } of all.comesBack.values()) {
    const found = drums.includes(drum.id) ? ctx.get(backFlowCell, point) : undefined;
    if (!found) continue;
    const isNew = found.sinceMs > word.answeredMs || (fill !== null && fill.startedAtMs > word.answeredMs);
    if (isNew) hold(word, say("back-flow", { point: title }), ctx.nowMs);
  }
}

/** Chlorine passes the carbon, and the drum was filled since a test last passed. */
function holdForChlorine({ drum }: DrumPlace, word: DrumWord, fill: Fill | null, ctx: Context): void {
  const { failed, passedMs } = ctx.get(chlorineCell, drum.id) ?? { failed: null, passedMs: null };
  if (!failed || !fill) return;
  const isFilledSince = passedMs === null || (fill.endedAtMs ?? ctx.nowMs) > passedMs;
  const isNew = failed.enteredMs > word.answeredMs || fill.startedAtMs > word.answeredMs;
  if (isFilledSince && isNew) hold(word, say("chlorine-passes", { value: failed.value }), ctx.nowMs);
}

/** Puts on hold for water over the limit that came in since a person last answered for it, or for the blend. */
function judge(
  all: Words,
  place: DrumPlace,
  word: DrumWord,
  fill: Fill | null,
  nowMs: number,
  ctx: Context,
): void {
  const { drum } = place;
  if (fill?.badAtMs != null && fill.badAtMs > word.answeredMs)
    for (const reason of fill.reasons.filter((text) => text.startsWith("water over")))
      hold(word, reason, nowMs);
  holdForBackFlow(all, place, word, fill, ctx);
  holdForChlorine(place, word, fill, ctx);
  const band = bandOf(all, place, ctx);
  if (band === null) return;
  const limit = Math.max(band, 1.1 * (word.tested25 ?? 0));
  const parts = whole(word.book);
  const running = fill !== null && fill.endedAtMs === null;
  const least = running ? leastFullShare * drum.volumeL : 0.02 * drum.volumeL;
  if (parts.watchedL < 0.01 * drum.volumeL || parts.dose <= limit * Math.max(parts.watchedL, least)) return;
  const blend25 = blendOf(parts) ?? 0;
  hold(word, say("blend", { blend: blend25.toPrecision(3), band }), nowMs, "the blend is");
}

function tell(all: Words, place: DrumPlace, word: DrumWord, nowMs: number, ctx: Context): void {
  const parts = whole(word.book);
  const feed = place.feedAt === null ? undefined : ctx.get(feedCell, place.feedAt);
  const batch = ctx.get(batchCell, place.drum.id) ?? null;
  const { verdict, reasons, kind } = verdictOf({
    parts,
    band25: bandOf(all, place, ctx),
    feed25: feed?.p99 ?? null,
    everFilled: word.everFilled,
    wasLost: word.wasLost,
    heldFor: word.heldFor,
    batch,
  });
  const { told } = word;
  if (verdict === "use") word.wasLost = false;
  else if (verdict === "unknown" && told?.verdict === "use") word.wasLost = true;
  const sinceMs = told?.verdict === verdict ? told.sinceMs : nowMs;
  const water: DrumWater = {
    kind: "drum-water",
    drum: place.drum.id,
    verdict,
    sinceMs,
    reasons,
    // What came in was fresh; with salt in it that is no conductivity of it any more.
    blend25: batch && isSalted(batch.state) ? null : blendOf(parts),
    unwatched: unwatchedShare(parts),
    contentsL: litresIn(parts),
    release: word.release,
    ...(batch ? { batch: batch.state } : {}),
    ...(kind.startsWith(notReadyKind) ? { notReady: true as const } : {}),
    atMs: nowMs,
  };
  word.told = { verdict, sinceMs, kind };
  all.changed.add(place.drum.id);
  if (told?.verdict === verdict && told.kind === kind) {
    const shown = ctx.get(waterCell, place.drum.id);
    if (shown && shown.blend25 === water.blend25 && shown.unwatched === water.unwatched)
      if (shown.batch === water.batch) return;
    ctx.put(waterCell, place.drum.id, water);
    return;
  }
  ctx.put(waterCell, place.drum.id, water);
  ctx.tell(water);
}

/** What the nodes' counters prove of a drum: of its stop float, and of the meter nearest to it. */
function countedOf(all: Words, drum: Drum, ctx: Context): Counted {
  const of = (channel: string | null | undefined) => (channel ? ctx.get(unchangedCell, channel) : undefined);
  const stop = drum.floats.find(({ role }) => role === "stop");
  return { stop: of(stop?.channel), meter: of(all.line && meterChannelOf(all.line, drum)) };
}

/** Goes on with what the witnesses and the running fill say now. */
function follow(all: Words, place: DrumPlace, said: DrumWitnesses, ctx: Context): void {
  const { drum } = place;
  const word = wordOf(all, drum);
  const fill = ctx.get(fillCell, drum.id) ?? null;
  const inflow = ctx.get(inflowCell, drum.id);
  const known: TripKnown = { drum, said, learned: ctx.get(learnedCell, drum.id) };
  const running = fill !== null && fill.endedAtMs === null ? fill.id : null;
  if (inflow?.flowing == null) word.isBlind = true;
  else {
    if (word.isBlind)
      endSilence(word, known, {
        nowMs: said.atMs,
        runsOn: running !== null && running === word.knownFill,
        counted: countedOf(all, drum, ctx),
      });
    markKnown(word, said, inflow.flowing ? running : null);
  }
  takeLevel(word, known, running !== null);
  firstSight(word, known);
  if (fill && running !== null) countFill(word, fill, known);
  const wet = said.stop?.heard ? said.stop.wet : null;
  const inSilence = said.stop?.edgeInSilence?.toMs === said.stop?.sinceMs;
  if (wet === true && word.stopWet === false && drum.control === "manual" && !inSilence)
    if (fill === null || (fill.endedAtMs ?? said.atMs) < said.atMs - 5 * 60_000) unsaidTrip(word, known);
  if (wet !== null) word.stopWet = wet;
  judge(all, place, word, fill, said.atMs, ctx);
  tell(all, place, word, said.atMs, ctx);
}

function takeFill(all: Words, fill: Fill, ctx: Context): void {
  const place = all.places.get(fill.drum);
  const said = ctx.get(witnessCell, fill.drum);
  if (!place || !said || fill.endedAtMs === null) return;
  const word = wordOf(all, place.drum);
  countFill(word, fill, { drum: place.drum, said, learned: ctx.get(learnedCell, fill.drum) });
  judge(all, place, word, fill, said.atMs, ctx);
  tell(all, place, word, said.atMs, ctx);
}

/** Something else than its water was learned of a drum. */
function judgeAnew(all: Words, drum: string, ctx: Context): void {
  const place = all.places.get(drum);
  if (!place) return;
  const word = wordOf(all, place.drum);
  judge(all, place, word, ctx.get(fillCell, drum) ?? null, ctx.nowMs, ctx);
  if (word.told !== null || word.heldFor.length > 0) tell(all, place, word, ctx.nowMs, ctx);
}

function answer(all: Words, act: ReleaseDrum | ReleaseUndo, ctx: Context): void {
  const place = all.places.get(act.drum);
  if (!place) return;
  const { drum } = place;
  const word = wordOf(all, drum);
  if (act.type === "release-undo") undoRelease(word);
  else release(word, act, { drum, band25: bandOf(all, place, ctx), nowMs: ctx.nowMs });
  tell(all, place, word, ctx.nowMs, ctx);
}

function refused(all: Words, act: Act, ctx: Context): ActRefused | null {
  const place = "drum" in act ? all.places.get(act.drum) : undefined;
  if (!place) return null;
  const { drum } = place;
  const levelL = ctx.get(witnessCell, drum.id)?.level?.litres ?? null;
  return refusalOf(act, { drum, word: all.words.get(drum.id), levelL, nowMs: ctx.nowMs });
}

function useLine(all: Words, line: Line, ctx: Context): void {
  all.line = line;
  all.places = placesOf(line);
  all.comesBack = backFlowPlaces(line);
  for (const drum of [...all.words.keys()])
    if (!all.places.has(drum)) {
      all.words.delete(drum);
      all.changed.add(drum);
      ctx.put(waterCell, drum, undefined);
    }
}

function seed(all: Words, records: Records, ctx: Context): void {
  for (const water of records.last("drum-water") as DrumWater[]) {
    const place = all.places.get(water.drum);
    if (!place) continue;
    const word = wordOf(all, place.drum);
    const litres = water.contentsL ?? place.drum.volumeL;
    const ownL = litres * water.unwatched;
    word.book = {
      base: { ...nothing, watchedL: litres - ownL, dose: (litres - ownL) * (water.blend25 ?? 0), ownL },
      since: nothing,
      isTight: false,
    };
    word.everFilled = true;
    word.isSeen = true;
    word.release = water.release ?? null;
    word.answeredMs = water.release?.atMs ?? 0;
    word.tested25 = water.release?.value25 ?? null;
    if (water.verdict === "hold") {
      word.heldFor = [...water.reasons];
      word.heldSinceMs = water.sinceMs;
    }
    word.told = { verdict: water.verdict, sinceMs: water.sinceMs, kind: "" };
    ctx.put(waterCell, water.drum, water);
    all.changed.add(water.drum);
  }
}

/** May a drum's water be used: followed by what came in, what was drawn, and what nobody saw. */
export function createWaterStage(): Stage<Heard, DrumWater> {
  const all: Words = {
    line: null,
    places: new Map(),
    comesBack: new Map(),
    words: new Map(),
    seen: new Map(),
    changed: new Set(),
  };
  return {
    name: "water",
    version: 1,
    owns: [waterCell],
    reads: [
      witnessCell,
      batchCell,
      backFlowCell,
      chlorineCell,
      inflowCell,
      fillCell,
      learnedCell,
      feedCell,
      unchangedCell,
    ],
    acts: ["release", "release-undo"],
    hears: {
      fill: (fill, ctx) => takeFill(all, fill, ctx),
      "back-flow": ({ point }, ctx) => {
        for (const drum of all.comesBack.get(point)?.drums ?? []) judgeAnew(all, drum, ctx);
      },
      chlorine: ({ drum }, ctx) => judgeAnew(all, drum, ctx),
      batch({ drum }, ctx) {
        const place = all.places.get(drum);
        if (place) tell(all, place, wordOf(all, place.drum), ctx.nowMs, ctx);
      },
      act({ act }, ctx) {
        if (act.type === "release" || act.type === "release-undo") answer(all, act, ctx);
      },
      current() {},
      gone() {},
      start() {},
    },
    useLine: (line, _was, ctx) => useLine(all, line, ctx),
    admit: (act, ctx) => refused(all, act, ctx),
    afterStep(ctx) {
      for (const place of all.places.values()) {
        const said = ctx.get(witnessCell, place.drum.id);
        if (!said || all.seen.get(place.drum.id) === said) continue;
        all.seen.set(place.drum.id, said);
        follow(all, place, said, ctx);
      }
    },
    *dirty() {
      for (const drum of all.changed) yield [drum, all.words.get(drum)] as const;
      all.changed.clear();
    },
    load(rows) {
      all.words = structuredClone(new Map(rows)) as Map<string, DrumWord>;
      return true;
    },
    seed: (records, ctx) => seed(all, records, ctx),
  };
}
