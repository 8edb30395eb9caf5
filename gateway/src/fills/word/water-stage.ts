import type { Act, ActRefused, ReleaseDrum, ReleaseUndo } from "../../acts/index.ts";
import type { Line } from "../../line/index.ts";
import { countedCell, edgesCell, latestCell, proofCell, unchangedCell } from "../../measurements/index.ts";
import type { PathEvent, Stage, StageContext } from "../../path/index.ts";
import type { DerivedEntry, PastHold } from "../../readings/index.ts";
import { type BackFlow, backFlowPlaces } from "../back-flow/back-flow.ts";
import type { Batch } from "../batch/batch.ts";
import {
  backFlowCell,
  batchCell,
  chlorineCell,
  feedCell,
  fillCell,
  guardCell,
  inflowCell,
  learnedCell,
  probeCell,
  waterCell,
  witnessCell,
} from "../cells.ts";
import type { Chlorine } from "../chlorine/chlorine.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { DrumWater, Fill } from "../fill.ts";
import { rewiredFloats } from "../floats/float-rewired.ts";
import { isStopTried } from "../floats/float-tried.ts";
import { isStuck, type ProbeChanged } from "../probes/probe-now.ts";
import type { DrumPlace } from "../record/drum-record.ts";
import { placesOf } from "../record/places.ts";
import { answeringOf } from "./answering.ts";
import { countedOf, isBadBefore, isGrossBefore, isSeenGood } from "./before-drum.ts";
import { firstSight, takeLevel } from "./by-level.ts";
import { countFill } from "./count-fill.ts";
import type { DrumWord } from "./drum-word.ts";
import { coverHidden, noteTold } from "./hidden-span.ts";
import { bandOf, holdForPast, judge } from "./holds.ts";
import { holdLost, presentWord, seedWords } from "./kept-words.ts";
import { noteLedElsewhere } from "./led-elsewhere.ts";
import { contradictDumped, refusalOf, release, undoRelease } from "./release.ts";
import { followSaidLate } from "./said-late.ts";
import { followCounted, takeSeenLate } from "./seen-late.ts";
import { askAgain, tell } from "./tell-word.ts";
import type { TripKnown } from "./trip-known.ts";
import { askOfBefore } from "./unasked.ts";
import { followUnproved, noteUncounted } from "./unproved.ts";
import {
  awaitsOthers,
  endSilence,
  hidByMeter,
  hidByProbe,
  markKnown,
  noteOwed,
  unsaidTrip,
} from "./unseen.ts";
import { type Words, wordOf } from "./words-state.ts";

type Context = StageContext<DrumWater>;
type Acted = PathEvent & { readonly kind: "act"; readonly act: Act };
type Heard =
  | Fill
  | Batch
  | BackFlow
  | Chlorine
  | ProbeChanged
  | Acted
  | DerivedEntry
  | (PathEvent & { readonly kind: "current" | "late" | "gone" | "start" });

/** A probe is found to stand still: what it saw come in since then was seen by nobody. */
function takeProbe(all: Words, channel: string, ctx: Context): void {
  const probe = ctx.get(probeCell, channel);
  if (!probe || !isStuck(probe)) return;
  const isIts = (key: string | null) => key !== null && all.line?.channels.get(key)?.channel === channel;
  const point = all.line?.points.find(({ conductivity }) => isIts(conductivity));
  for (const place of all.places.values()) {
    const said = ctx.get(witnessCell, place.drum.id);
    if (!said || place.seenAt !== point?.id) continue;
    const word = wordOf(all, place.drum);
    if (word.flatSinceMs === probe.sinceMs) continue;
    word.flatSinceMs = probe.sinceMs;
    hidByProbe(word, knownOf(place, said, ctx), probe.runs);
    tell(all, { place, word, nowMs: ctx.nowMs }, ctx);
  }
}

const knownOf = (place: DrumPlace, said: DrumWitnesses, ctx: Context): TripKnown => ({
  drum: place.drum,
  said,
  learned: ctx.get(learnedCell, place.drum.id),
  band25: bandOf(place, ctx),
});

/** Goes on with what the witnesses and the running fill say now. */
function follow(all: Words, place: DrumPlace, said: DrumWitnesses, ctx: Context): void {
  const { drum } = place;
  const word = wordOf(all, drum);
  const fill = ctx.get(fillCell, drum.id) ?? null;
  const inflow = ctx.get(inflowCell, drum.id);
  const known = knownOf(place, said, ctx);
  const { book, tripByBookL } = word;
  const toldMs = Math.min(said.atMs, said.heardMs ?? said.atMs, said.lateMs ?? said.atMs);
  const running = fill !== null && fill.endedAtMs === null ? fill.id : null;
  const counted = countedOf(all, drum, ctx);
  if (inflow?.flowing == null) word.isBlind = true;
  else {
    if (word.isBlind && !awaitsOthers(word, known, ctx.nowMs))
      endSilence(word, known, {
        nowMs: toldMs,
        // One that is over by what is heard now ended in the silence: another may have followed it there.
        runsOn: inflow.flowing && running !== null && running === word.knownFill,
        counted,
      });
    if (!word.isBlind)
      markKnown(word, said, { toldMs, fill: inflow.flowing ? running : null, total: counted.total });
  }
  if (inflow) followUnproved(word, known, { inflow, isBad: isBadBefore(place, ctx) });
  if (inflow) followSaidLate(word, known, { inflow, isBad: isGrossBefore(place, ctx) });
  // A fill that is over waits for what its probe's node had kept.
  noteOwed(word, said, inflow?.flowing === true || (inflow?.flowing === false && running === null));
  askAgain(all, drum.id, word, ctx);
  const unplanned = ctx.get(guardCell, drum.id)?.unplanned;
  if (unplanned && inflow?.flowing !== true) hidByMeter(word, known, unplanned, isSeenGood(place, ctx));
  askOfBefore(word, known.band25 ?? null, drum.volumeL);
  takeLevel(word, known, running !== null);
  firstSight(word, known);
  if (fill && running !== null) countFill(word, fill, known);
  followCounted(word, said);
  coverHidden(word, said, { running: running === null ? null : fill, volumeL: drum.volumeL });
  const wet = said.stop?.heard ? said.stop.wet : null;
  const inSilence = said.stop?.edgeInSilence?.toMs === said.stop?.sinceMs;
  const tried = isStopTried(drum, said, ctx);
  if (wet === true && word.stopWet === false && drum.control === "manual" && !inSilence && !tried)
    if (fill === null || (fill.endedAtMs ?? said.atMs) < said.atMs - 5 * 60_000) unsaidTrip(word, known);
  contradictDumped(word, drum.volumeL, { wet, nowMs: ctx.nowMs });
  if (wet !== null) word.stopWet = wet;
  // What comes late of a time for which a person has answered since is in their answer.
  if ((said.lateMs ?? said.atMs) <= word.answeredMs) Object.assign(word, { book, tripByBookL });
  const judged = { place, word, fill, nowMs: said.atMs };
  judge(all, judged, ctx);
  tell(all, judged, ctx);
}

/** Goes on with each drum of which its witnesses said something since the last look. */
function followSeen(all: Words, ctx: Context): void {
  for (const place of all.places.values()) {
    const said = ctx.get(witnessCell, place.drum.id);
    if (!said || all.seen.get(place.drum.id) === said) continue;
    all.seen.set(place.drum.id, said);
    follow(all, place, said, ctx);
  }
}

function takeFill(all: Words, fill: Fill, ctx: Context): void {
  const place = all.places.get(fill.drum);
  const said = ctx.get(witnessCell, fill.drum);
  if (!place || !said || fill.endedAtMs === null) return;
  const word = wordOf(all, place.drum);
  const { book, tripByBookL } = word;
  noteTold(word, fill);
  noteUncounted(word, fill);
  if (!takeSeenLate(word, fill)) countFill(word, fill, knownOf(place, said, ctx));
  if (fill.endedAtMs <= word.answeredMs) Object.assign(word, { book, tripByBookL });
  const judged = { place, word, fill, nowMs: said.atMs };
  judge(all, judged, ctx);
  tell(all, judged, ctx);
}

/** Something else than its water was learned of a drum. */
function judgeAnew(all: Words, drum: string, ctx: Context): void {
  const place = all.places.get(drum);
  if (!place) return;
  const word = wordOf(all, place.drum);
  const judged = { place, word, fill: ctx.get(fillCell, drum) ?? null, nowMs: ctx.nowMs };
  judge(all, judged, ctx);
  if (word.told !== null || word.heldFor.length > 0) tell(all, judged, ctx);
}

/** Later than the word itself: what was good by what was known then is bad by what is known now. */
function judgePast(all: Words, past: PastHold, ctx: Context): void {
  const place = all.places.get(past.drum);
  if (!place) return;
  const word = wordOf(all, place.drum);
  holdForPast(word, past, ctx.nowMs);
  tell(all, { place, word, nowMs: ctx.nowMs }, ctx);
}

function answer(all: Words, act: ReleaseDrum | ReleaseUndo, ctx: Context): void {
  const place = all.places.get(act.drum);
  if (!place) return;
  const word = wordOf(all, place.drum);
  if (act.type === "release-undo") undoRelease(word);
  else release(word, act, answeringOf(place, ctx));
  tell(all, { place, word, nowMs: ctx.nowMs }, ctx);
}

function refused(all: Words, act: Act, ctx: Context): ActRefused | null {
  const place = "drum" in act ? all.places.get(act.drum) : undefined;
  if (!place) return null;
  const { drum } = place;
  const levelL = ctx.get(witnessCell, drum.id)?.level?.litres ?? null;
  return refusalOf(act, { drum, word: all.words.get(drum.id), levelL, nowMs: ctx.nowMs });
}

function useLine(all: Words, line: Line, was: Line | null, ctx: Context): void {
  for (const { drum, float } of rewiredFloats(line, was)) {
    const word = float.role === "stop" ? all.words.get(drum.id) : undefined;
    if (word) Object.assign(word, { stopWet: null, knownWet: null });
  }
  all.line = line;
  const places = placesOf(line);
  noteLedElsewhere(all, places, ctx);
  all.places = places;
  all.comesBack = backFlowPlaces(line);
  if (all.areLost) holdLost(all, ctx);
  for (const drum of [...all.words.keys()])
    if (!all.places.has(drum)) {
      all.words.delete(drum);
      all.changed.add(drum);
      ctx.wakeAt(drum, null);
      ctx.put(waterCell, drum, undefined);
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
    areLost: false,
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
      countedCell,
      edgesCell,
      guardCell,
      latestCell,
      proofCell,
      probeCell,
    ],
    acts: ["release", "release-undo"],
    hears: {
      fill: (fill, ctx) => takeFill(all, fill, ctx),
      "back-flow": ({ point }, ctx) => {
        for (const drum of all.comesBack.get(point)?.drums ?? []) judgeAnew(all, drum, ctx);
      },
      derived({ holds = [] }, ctx) {
        for (const one of holds) judgePast(all, one, ctx);
      },
      chlorine: ({ drum }, ctx) => judgeAnew(all, drum, ctx),
      "probe-now": ({ channel }, ctx) => takeProbe(all, channel, ctx),
      batch({ drum }, ctx) {
        const place = all.places.get(drum);
        if (place) tell(all, { place, word: wordOf(all, place.drum), nowMs: ctx.nowMs }, ctx);
      },
      act({ act }, ctx) {
        if (act.type === "release" || act.type === "release-undo") answer(all, act, ctx);
      },
      current() {},
      late() {},
      gone() {},
      start() {},
    },
    useLine: (line, was, ctx) => useLine(all, line, was, ctx),
    admit: (act, ctx) => refused(all, act, ctx),
    wake(drum, ctx) {
      const place = all.places.get(drum);
      const word = all.words.get(drum);
      if (!place || !word) return;
      word.hiddenDueMs = null;
      tell(all, { place, word, nowMs: ctx.nowMs }, ctx);
      askAgain(all, drum, word, ctx);
    },
    afterStep: (ctx) => followSeen(all, ctx),
    *dirty() {
      for (const drum of all.changed) yield [drum, all.words.get(drum)] as const;
      all.changed.clear();
    },
    load(rows, _fromVersion, ctx) {
      all.words = new Map([...rows].map(([drum, plain]) => [drum, presentWord(plain as DrumWord)]));
      for (const [drum, { hiddenDueMs }] of all.words) if (hiddenDueMs != null) ctx.wakeAt(drum, hiddenDueMs);
      return true;
    },
    seed: (records, ctx) => seedWords(all, records, ctx),
  };
}
