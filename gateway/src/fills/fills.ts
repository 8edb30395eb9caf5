import type { Act } from "../acts/index.ts";
import { type Drum, drumOf, type Line, stageInto } from "../line/index.ts";
import type { Gone, Measurement } from "../measurements/index.ts";
import type { Emit } from "../readings/index.ts";
import { byName } from "./by-name.ts";
import { blended, type Contents, emptyContents, unknownContents } from "./contents.ts";
import { graceMsOf, pointSeenFor } from "./drum-feed.ts";
import { type Inflow, type InflowBases, inflowBases, inflowOf } from "./drum-inflow.ts";
import type { DrumWater, Fill, FillEnd } from "./fill.ts";
import type { createFlowSources } from "./flow-sources.ts";
import { type Learned, learn, nothingLearned, tripVolumeL, usualFlowLPerMin } from "./learned.ts";
import { whetherNotStopping } from "./not-stopping.ts";
import { fillOf, newFill, type OpenFill } from "./open-fill.ts";
import { isOver } from "./over-limit.ts";
import type { RunState } from "./run.ts";

/** Inflow that comes back within this time goes on with the same fill. */
const pauseMs = 2 * 60_000;
/** A silence longer than this ends a fill where it was last heard. */
const silenceMs = 15 * 60_000;
/** A reading of what comes in speaks for so long. */
const freshKappaMs = 90_000;
const toldEveryMs = 10_000;
/** More than this unwatched, and nobody can say `use`. */
const unwatchedAllowed = 0.05;
/** Band of a drum behind resin or a membrane where the line gives none, uS/cm: CO2 of the air alone brings about 1. */
const pureBand25 = 10;

interface DrumState {
  open: OpenFill | null;
  volumeL: number | null;
  stopWet: boolean | null;
  inflow: Inflow;
  learned: Learned;
  contents: Contents;
  hold: { readonly sinceMs: number; readonly reasons: string[] } | null;
  told: { readonly verdict: DrumWater["verdict"]; readonly sinceMs: number; readonly reasons: string } | null;
  everFilled: boolean;
}

/** The whole state as plain JSON. */
export interface FillsState {
  readonly drums: Readonly<Record<string, DrumState>>;
  readonly kappas: Readonly<Record<string, { readonly value: number; readonly tMs: number }>>;
  readonly runs: Readonly<Record<string, RunState>>;
}

/** What this stage tells. */
export type FillOutcome = Fill | DrumWater;

/** Fills of every drum, and whether its water may be used. Goes by the time of the readings, never by that of arrival. */
export function createFills(
  sources: Pick<ReturnType<typeof createFlowSources>, "best" | "say" | "riseBegan">,
) {
  let line: Line | null = null;
  let drums = byName<DrumState>();
  let kappas = byName<{ value: number; tMs: number }>();
  let runs = byName<RunState>();
  const bases = new Map<string, InflowBases>();
  const seen = new Map<string, string>();

  function stateOf(id: string): DrumState {
    drums[id] ??= {
      open: null,
      volumeL: null,
      stopWet: null,
      inflow: { flowing: null, basis: "none", flowLPerMin: null, estimated: false },
      learned: nothingLearned(),
      contents: unknownContents,
      hold: null,
      told: null,
      everFilled: false,
    };
    return drums[id] as DrumState;
  }

  function limitOf(drum: Drum): number | null {
    return line?.points.find(({ id }) => id === drum.fedBy)?.limit25UsPerCm ?? null;
  }

  function bandOf(drum: Drum): number | null {
    if (drum.target.conductivity25UsPerCm !== null) return drum.target.conductivity25UsPerCm;
    const before = line && stageInto(line, drum.fedBy)?.kind;
    return before === "resin" || before === "membrane" ? pureBand25 : null;
  }

  function tellWater(drum: Drum, state: DrumState, nowMs: number, emit: Emit<FillOutcome>): void {
    const { blend25, unwatched } = state.contents;
    const [verdict, reasons]: [DrumWater["verdict"], string[]] = state.hold
      ? ["hold", state.hold.reasons]
      : !state.everFilled
        ? ["unknown", ["no fill was seen yet: what is in it came before the watch began"]]
        : unwatched > unwatchedAllowed
          ? ["unknown", [`${Math.round(unwatched * 100)} % of what is in it was not watched as it came in`]]
          : ["use", []];
    const text = reasons.join("\n");
    const { told } = state;
    if (told && told.verdict === verdict && told.reasons === text) return;
    const sinceMs = told?.verdict === verdict ? told.sinceMs : nowMs;
    state.told = { verdict, sinceMs, reasons: text };
    emit({ kind: "drum-water", drum: drum.id, verdict, sinceMs, reasons, blend25, unwatched, atMs: nowMs });
  }

  function hold(state: DrumState, reason: string, nowMs: number): void {
    if (state.hold?.reasons.includes(reason)) return;
    state.hold = { sinceMs: state.hold?.sinceMs ?? nowMs, reasons: [...(state.hold?.reasons ?? []), reason] };
  }

  function begin(drum: Drum, state: DrumState, now: Inflow, tMs: number, emit: Emit<FillOutcome>): OpenFill {
    // A level must rise for a while before it is seen to: the fill began where the rise did.
    const rise = now.basis === "level" ? sources.riseBegan(drum.id) : null;
    const open = newFill(drum.id, now, rise?.litres ?? state.volumeL, Math.min(tMs, rise?.tMs ?? tMs));
    open.lastMs = tMs;
    state.open = open;
    emit(fillOf(drum.id, open, null));
    return open;
  }

  /** Adds what came in between the last look and now, at the flow known then. */
  function addWater(drum: Drum, state: DrumState, open: OpenFill, tMs: number): void {
    const stepMs = tMs - open.lastMs;
    open.lastMs = tMs;
    if (stepMs <= 0 || state.inflow.flowing !== true) return;
    const usual = state.inflow.flowLPerMin === null ? usualFlowLPerMin(state.learned) : null;
    const flow = state.inflow.flowLPerMin ?? usual;
    if (usual !== null || state.inflow.estimated) open.estimated = true;
    const part = flow === null ? stepMs / 60_000 : (flow * stepMs) / 60_000;
    if (flow !== null) open.litres = (open.litres ?? 0) + part;
    open.came += part;
    const kappa = kappas[seen.get(drum.id) ?? drum.fedBy];
    if (!kappa || tMs - kappa.tMs > freshKappaMs) return;
    open.watched += part;
    open.sum25 += part * kappa.value;
    if (runs[drum.fedBy]?.settled === false) {
      open.first += part;
      open.firstSum25 += part * kappa.value;
    } else open.peak25 = Math.max(open.peak25 ?? 0, kappa.value);
  }

  function close(drum: Drum, state: DrumState, open: OpenFill, nowMs: number, emit: Emit<FillOutcome>): void {
    const tripped = open.trippedAtMs !== null && (open.stoppedAtMs ?? open.lastMs) >= open.trippedAtMs;
    const end: FillEnd =
      open.notStopping !== null
        ? "not-stopping"
        : tripped
          ? "float-tripped"
          : open.byPerson
            ? "stopped-by-person"
            : "inflow-stopped";
    // A level tells what came in better than the sum of its slopes.
    if (open.basis === "level" && open.startL !== null && state.volumeL !== null)
      open.litres = Math.max(0, state.volumeL - open.startL);
    const fill = fillOf(drum.id, open, end);
    state.open = null;
    const durationMs = (fill.endedAtMs ?? nowMs) - fill.startedAtMs;
    if (end === "float-tripped")
      learn(state.learned, fill.tripAtL, fill.estimated ? null : fill.litres, durationMs);
    const stop = drum.floats.find(({ role }) => role === "stop");
    const cameL = fill.litres ?? 0.3 * drum.volumeL;
    const trip = end === "float-tripped" ? tripVolumeL(state.learned, stop?.tripsAtL ?? null) : null;
    const afterL =
      state.volumeL ??
      trip ??
      Math.min(drum.volumeL, (state.contents.litres ?? drum.volumeL - cameL) + cameL);
    state.contents = blended(state.contents, Math.max(0, afterL - cameL), {
      litres: cameL,
      watched: fill.watched,
      mean25: fill.mean25,
    });
    state.everFilled = true;
    const band = bandOf(drum);
    const { blend25 } = state.contents;
    if (band !== null && blend25 !== null && blend25 > band)
      hold(state, `the blend is ${blend25.toPrecision(3)} µS/cm, over this drum's ${band}`, nowMs);
    emit(fill);
    tellWater(drum, state, nowMs, emit);
  }

  /** Looks at one drum again after something was told. */
  function look(drum: Drum, tMs: number, emit: Emit<FillOutcome>): void {
    const state = stateOf(drum.id);
    const own = (id: string) => bases.get(id)?.own ?? [];
    const now = inflowOf(bases.get(drum.id) as InflowBases, own, sources);
    let { open } = state;
    if (open) {
      closeWhenOver(drum, state, open, tMs, emit);
      open = state.open;
    }
    if (open) addWater(drum, state, open, Math.max(tMs, open.lastMs));
    if (now.flowing === true) {
      const goesOn = open ?? begin(drum, state, now, tMs, emit);
      if (goesOn.silentSinceMs !== null) {
        // Bridged: what came in meanwhile is taken from the flow now, and nobody watched it.
        const gapL =
          now.flowLPerMin === null ? null : (now.flowLPerMin * (tMs - goesOn.silentSinceMs)) / 60_000;
        goesOn.estimated = true;
        if (gapL !== null) goesOn.litres = (goesOn.litres ?? 0) + gapL;
        goesOn.came += gapL ?? (tMs - goesOn.silentSinceMs) / 60_000;
      }
      const wasPaused = goesOn.stoppedAtMs !== null;
      goesOn.stoppedAtMs = null;
      goesOn.silentSinceMs = null;
      if (wasPaused) emit(fillOf(drum.id, goesOn, null));
      if (goesOn.basis !== now.basis && now.basis === "flow-meter") goesOn.basis = now.basis;
    } else if (open && now.flowing === false) {
      const paused = open.stoppedAtMs === null;
      open.stoppedAtMs ??= open.silentSinceMs ?? tMs;
      open.silentSinceMs = null;
      if (paused) emit(fillOf(drum.id, open, null));
    } else if (open && open.stoppedAtMs === null) open.silentSinceMs ??= tMs;
    state.inflow = now;
    open = state.open;
    if (!open) {
      tellWater(drum, state, tMs, emit);
      return;
    }
    if (now.flowing === true) {
      const before = open.notStopping;
      open.notStopping ??= whetherNotStopping(drum, state, open, graceMsOf(line as Line, drum), tMs);
      if (open.notStopping !== null || before !== open.notStopping || tMs - open.toldMs >= toldEveryMs) {
        open.toldMs = tMs;
        emit(fillOf(drum.id, open, null));
      }
    }
    tellWater(drum, state, tMs, emit);
    // A float that is wet ends the fill at once: nothing will come back by itself.
    if (open.stoppedAtMs !== null && open.trippedAtMs !== null) close(drum, state, open, tMs, emit);
  }

  function overAtMs(open: OpenFill): number | null {
    if (open.stoppedAtMs !== null) return open.stoppedAtMs + pauseMs;
    return open.silentSinceMs === null ? null : open.silentSinceMs + silenceMs;
  }

  function closeWhenOver(
    drum: Drum,
    state: DrumState,
    open: OpenFill,
    nowMs: number,
    emit: Emit<FillOutcome>,
  ): void {
    const overMs = overAtMs(open);
    if (overMs !== null && nowMs >= overMs) close(drum, state, open, nowMs, emit);
  }

  function takeFloat(drum: Drum, wet: boolean, tMs: number): void {
    const state = stateOf(drum.id);
    const { open } = state;
    if (wet && state.stopWet === false && open && open.trippedAtMs === null) {
      addWater(drum, state, open, Math.max(tMs, open.lastMs));
      open.trippedAtMs = tMs;
      open.tripAtL = state.volumeL;
      open.litresAtTrip = open.litres;
    }
    state.stopWet = wet;
  }

  function takeKappa(point: string, kappa25: number, tMs: number, emit: Emit<FillOutcome>): void {
    for (const drum of line?.drums ?? []) {
      if (seen.get(drum.id) !== point) continue;
      const state = stateOf(drum.id);
      const { open } = state;
      if (!open || state.inflow.flowing !== true) continue;
      addWater(drum, state, open, Math.max(tMs, open.lastMs));
      const limit = limitOf(drum);
      if (limit === null || !isOver(open.over, kappa25, limit, runs[point]?.settled !== false, tMs)) continue;
      const place = line?.points.find(({ id }) => id === point)?.title ?? point;
      const reason = `water over the limit of ${limit} µS/cm came in (${place})`;
      if (open.reasons.includes(reason)) continue;
      open.reasons.push(reason);
      hold(state, reason, tMs);
      emit(fillOf(drum.id, open, null));
      tellWater(drum, state, tMs, emit);
    }
    kappas[point] = { value: kappa25, tMs };
  }

  function lookAll(tMs: number, emit: Emit<FillOutcome>): void {
    for (const drum of line?.drums ?? []) look(drum, tMs, emit);
  }

  const told = (quantity: Measurement["quantity"]) =>
    quantity === "flow" || quantity === "volume" || quantity === "state";

  return {
    useLine(next: Line): void {
      line = next;
      bases.clear();
      seen.clear();
      for (const drum of next.drums) {
        bases.set(drum.id, inflowBases(next, drum));
        seen.set(drum.id, pointSeenFor(next, drum));
      }
      for (const id of Object.keys(drums)) if (!bases.has(id)) delete drums[id];
    },
    /** Takes a measurement, after the sources of flow have. */
    push(measurement: Measurement, emit: Emit<FillOutcome>): void {
      const { subject, quantity, value, flag, tMs } = measurement;
      const valid = value !== null && flag !== 4 && flag !== 9;
      if (quantity === "conductivity25" && subject.kind === "point") {
        if (valid) takeKappa(subject.id, value, tMs, emit);
        else delete kappas[subject.id];
        return;
      }
      if (!told(quantity)) return;
      const ofDrum = drumOf(subject);
      const drum = line?.drums.find(({ id }) => id === ofDrum);
      if (quantity === "volume" && drum) stateOf(drum.id).volumeL = valid ? value : null;
      if (subject.kind === "float" && subject.role === "stop" && drum) {
        if (valid) takeFloat(drum, value === 1, tMs);
        else stateOf(drum.id).stopWet = null;
      }
      lookAll(tMs, emit);
    },
    gone({ subject, quantity, lastMs }: Gone, nowMs: number, emit: Emit<FillOutcome>): void {
      if (quantity === "conductivity25" && subject.kind === "point") delete kappas[subject.id];
      if (quantity === "volume" && drums[subject.id]) (drums[subject.id] as DrumState).volumeL = null;
      // It was heard until then: what came in since was neither measured nor watched.
      if (told(quantity)) lookAll(Math.min(lastMs, nowMs), emit);
    },
    run(run: RunState): void {
      runs[run.point] = run;
    },
    restarted(nowMs: number, emit: Emit<FillOutcome>): void {
      lookAll(nowMs, emit);
    },
    /** Why a person's act on a drum can't be taken; null when it can. */
    refusalOf(act: Extract<Act, { drum: string }>): "no-such-drum" | "not-possible-in-state" | null {
      if (!line?.drums.some(({ id }) => id === act.drum)) return "no-such-drum";
      const state = stateOf(act.drum);
      if (act.type === "release")
        return state.hold || act.reason === "dumped" ? null : "not-possible-in-state";
      return act.type === "fill-stopped" && !state.open ? "not-possible-in-state" : null;
    },
    /** A person's fill, and the release of a drum. */
    act(act: Extract<Act, { drum: string }>, nowMs: number, emit: Emit<FillOutcome>): void {
      const drum = line?.drums.find(({ id }) => id === act.drum);
      if (!drum) return;
      const state = stateOf(drum.id);
      if (act.type === "release") {
        state.hold = null;
        if (act.reason === "dumped") state.contents = emptyContents;
        // A person looked at it: what nobody watched is answered for.
        else state.contents = { ...state.contents, unwatched: 0 };
        state.everFilled = true;
        tellWater(drum, state, nowMs, emit);
        return;
      }
      const starts = act.type === "fill-started";
      sources.say(`person/${drum.id}`, { flowing: starts, flowLPerMin: null });
      if (!starts && state.open) state.open.byPerson = true;
      look(drum, nowMs, emit);
      // A person who says that it is over is believed at once, unless something better saw water run.
      if (!starts && state.open && state.inflow.flowing !== true) {
        state.open.stoppedAtMs ??= nowMs;
        close(drum, state, state.open, nowMs, emit);
      }
    },
    /** What is known of a drum's inflow. */
    inflow: (drum: string): Inflow => stateOf(drum).inflow,
    /** Begins with the word that was told last: a hold stays a hold. */
    useWord({ drum, verdict, sinceMs, reasons, blend25, unwatched }: DrumWater): void {
      const state = stateOf(drum);
      state.told = { verdict, sinceMs, reasons: reasons.join("\n") };
      state.contents = { litres: null, blend25, unwatched };
      state.everFilled = verdict !== "unknown";
      if (verdict === "hold") state.hold = { sinceMs, reasons: [...reasons] };
    },
    nextDeadline(): number | null {
      let least: number | null = null;
      for (const { open } of Object.values(drums)) {
        const atMs = open && overAtMs(open);
        if (atMs !== null && (least === null || atMs < least)) least = atMs;
      }
      return least;
    },
    pass(nowMs: number, emit: Emit<FillOutcome>): void {
      for (const drum of line?.drums ?? []) {
        const state = drums[drum.id];
        if (state?.open) closeWhenOver(drum, state, state.open, nowMs, emit);
      }
    },
    /** Begins with what earlier fills of a drum taught. */
    useLearned(drum: string, learned: Learned): void {
      stateOf(drum).learned = learned;
    },
    /** How long the running fill of a drum is likely to go on, and what is learned of it. */
    learned: (drum: string): Learned => drums[drum]?.learned ?? nothingLearned(),
    /** What stands: the verdict of each drum, and fills that run. */
    standing(): readonly FillOutcome[] {
      return Object.entries(drums).flatMap(([drum, { open, told, contents }]) => [
        ...(told
          ? [
              {
                kind: "drum-water" as const,
                drum,
                verdict: told.verdict,
                sinceMs: told.sinceMs,
                reasons: told.reasons === "" ? [] : told.reasons.split("\n"),
                blend25: contents.blend25,
                unwatched: contents.unwatched,
                atMs: told.sinceMs,
              },
            ]
          : []),
        ...(open ? [fillOf(drum, open, null)] : []),
      ]);
    },
    snapshot: (): FillsState => ({ drums, kappas, runs }),
    restore(state: FillsState): void {
      const saved = structuredClone(state);
      drums = byName(saved.drums);
      kappas = byName(saved.kappas);
      runs = byName(saved.runs);
    },
  };
}
