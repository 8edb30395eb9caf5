import type { Act } from "../acts/index.ts";
import { type Drum, type Line, type LineStage, stageInto } from "../line/index.ts";
import type { Gone, Measurement } from "../measurements/index.ts";
import type { Emit } from "../readings/index.ts";
import { blended, type Contents, emptyContents, unknownContents } from "./contents.ts";
import { type Inflow, type InflowBases, inflowBases, inflowOf } from "./drum-inflow.ts";
import type { DrumWater, Fill, FillEnd, NotStopping } from "./fill.ts";
import type { createFlowSources } from "./flow-sources.ts";
import {
  type Learned,
  learn,
  nothingLearned,
  tripToleranceL,
  tripVolumeL,
  usualDurationMs,
  usualFlowLPerMin,
} from "./learned.ts";
import { isOver, notOver, type OverLimit } from "./over-limit.ts";
import type { FlowBasis, RunState } from "./run.ts";

/** Inflow that comes back within this time goes on with the same fill. */
const pauseMs = 2 * 60_000;
/** A silence longer than this ends a fill where it was last heard. */
const silenceMs = 15 * 60_000;
/** A drum stops within this time after its float tripped; behind a membrane, which has a tank to empty, later. */
const graceMs = 2 * 60_000;
const membraneGraceMs = 10 * 60_000;
/** A reading of what comes in speaks for so long. */
const freshKappaMs = 90_000;
const toldEveryMs = 10_000;
/** More than this unwatched, and nobody can say `use`. */
const unwatchedAllowed = 0.05;
/** Band of a drum behind resin or a membrane where the line gives none, uS/cm: CO2 of the air alone brings about 1. */
const pureBand25 = 10;

interface OpenFill {
  readonly id: string;
  startedAtMs: number;
  lastMs: number;
  basis: FlowBasis;
  litres: number | null;
  estimated: boolean;
  /** Litres (minutes where litres are not known) that came in, that were watched, and their κ25 sums. */
  came: number;
  watched: number;
  sum25: number;
  first: number;
  firstSum25: number;
  peak25: number | null;
  /** Litres in the drum as the fill began, where a level tells. */
  startL: number | null;
  trippedAtMs: number | null;
  tripAtL: number | null;
  litresAtTrip: number | null;
  stoppedAtMs: number | null;
  silentSinceMs: number | null;
  byPerson: boolean;
  notStopping: NotStopping | null;
  reasons: string[];
  over: OverLimit;
  toldMs: number;
}

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
export function createFills(sources: Pick<ReturnType<typeof createFlowSources>, "best" | "say">) {
  let line: Line | null = null;
  let drums: Record<string, DrumState> = {};
  let kappas: Record<string, { value: number; tMs: number }> = {};
  let runs: Record<string, RunState> = {};
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

  function hasMembrane(drum: Drum): boolean {
    for (let stage = line && stageInto(line, drum.fedBy); stage; stage = line && stageInto(line, stage.from))
      if (stage.kind === "membrane") return true;
    return false;
  }

  /** The point whose probe sees what comes into a drum: sediment and carbon filters leave the conductivity as it is. */
  function seenAt(drum: Drum): string {
    for (let at: string | null = drum.fedBy; at !== null; ) {
      if (line?.points.some(({ id, conductivity }) => id === at && conductivity)) return at;
      const stage: LineStage | null = line && stageInto(line, at);
      at = stage && (stage.kind === "sediment" || stage.kind === "carbon") ? stage.from : null;
    }
    return drum.fedBy;
  }

  function limitOf(drum: Drum): number | null {
    return line?.points.find(({ id }) => id === drum.fedBy)?.limit25UsPerCm ?? null;
  }

  function bandOf(drum: Drum): number | null {
    if (drum.target.conductivity25UsPerCm !== null) return drum.target.conductivity25UsPerCm;
    const before = line && stageInto(line, drum.fedBy)?.kind;
    return before === "resin" || before === "membrane" ? pureBand25 : null;
  }

  function view(drum: string, open: OpenFill, end: FillEnd | null): Fill {
    const settled = open.watched - open.first;
    const confirmed =
      open.trippedAtMs === null || end === null
        ? null
        : open.basis === "calling-float"
          ? null
          : end === "float-tripped";
    return {
      kind: "fill",
      id: open.id,
      drum,
      startedAtMs: open.startedAtMs,
      endedAtMs: end === null ? null : (open.stoppedAtMs ?? open.silentSinceMs ?? open.lastMs),
      pausedSinceMs: end === null ? open.stoppedAtMs : null,
      litres: open.litres,
      basis: open.basis,
      estimated: open.estimated,
      mean25: open.watched > 0 ? open.sum25 / open.watched : null,
      peak25: settled > 0 ? open.peak25 : null,
      firstWater25: open.first > 0 ? open.firstSum25 / open.first : null,
      end,
      tripConfirmed: confirmed,
      trippedAtMs: open.trippedAtMs,
      tripAtL: open.tripAtL,
      watched: open.came > 0 ? Math.min(1, open.watched / open.came) : 0,
      notStopping: open.notStopping,
      reasons: [...open.reasons],
      revision: 0,
    };
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
    const open: OpenFill = {
      id: `${drum.id}@${tMs}`,
      startedAtMs: tMs,
      lastMs: tMs,
      basis: now.basis,
      litres: null,
      estimated: now.estimated,
      came: 0,
      watched: 0,
      sum25: 0,
      first: 0,
      firstSum25: 0,
      peak25: null,
      startL: state.volumeL,
      trippedAtMs: null,
      tripAtL: null,
      litresAtTrip: null,
      stoppedAtMs: null,
      silentSinceMs: null,
      byPerson: false,
      notStopping: null,
      reasons: [],
      over: notOver(),
      toldMs: tMs,
    };
    state.open = open;
    emit(view(drum.id, open, null));
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

  function whetherNotStopping(drum: Drum, state: DrumState, open: OpenFill, tMs: number): NotStopping | null {
    const stop = drum.floats.find(({ role }) => role === "stop");
    const trip = tripVolumeL(state.learned, stop?.tripsAtL ?? null);
    if (
      state.volumeL !== null &&
      trip !== null &&
      state.stopWet !== true &&
      state.volumeL > trip + tripToleranceL(state.learned, drum.volumeL)
    )
      return "past-trip-volume";
    if (
      open.trippedAtMs !== null &&
      tMs - open.trippedAtMs > (hasMembrane(drum) ? membraneGraceMs : graceMs)
    ) {
      const usual = usualFlowLPerMin(state.learned);
      const flow = state.inflow.flowLPerMin;
      const since =
        open.litres === null || open.litresAtTrip === null ? null : open.litres - open.litresAtTrip;
      const runsOn = flow === null || usual === null || flow > 0.1 * usual;
      if (open.basis !== "calling-float" && runsOn && (since === null || since > 0.01 * drum.volumeL))
        return "goes-on-after-trip";
    }
    const usualMs = usualDurationMs(state.learned);
    const blind = state.volumeL === null && state.inflow.flowLPerMin === null;
    if (blind && usualMs !== null && tMs - open.startedAtMs > 1.2 * usualMs) return "longer-than-learned";
    return null;
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
    const fill = view(drum.id, open, end);
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
      if (wasPaused) emit(view(drum.id, goesOn, null));
      if (goesOn.basis !== now.basis && now.basis === "flow-meter") goesOn.basis = now.basis;
    } else if (open && now.flowing === false) {
      const paused = open.stoppedAtMs === null;
      open.stoppedAtMs ??= open.silentSinceMs ?? tMs;
      open.silentSinceMs = null;
      if (paused) emit(view(drum.id, open, null));
    } else if (open && open.stoppedAtMs === null) open.silentSinceMs ??= tMs;
    state.inflow = now;
    open = state.open;
    if (!open) {
      tellWater(drum, state, tMs, emit);
      return;
    }
    if (now.flowing === true) {
      const before = open.notStopping;
      open.notStopping ??= whetherNotStopping(drum, state, open, tMs);
      if (open.notStopping !== null || before !== open.notStopping || tMs - open.toldMs >= toldEveryMs) {
        open.toldMs = tMs;
        emit(view(drum.id, open, null));
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
      emit(view(drum.id, open, null));
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
        seen.set(drum.id, seenAt(drum));
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
      const drum = line?.drums.find(
        ({ id }) => id === (subject.kind === "float" ? subject.id.split(".")[0] : subject.id),
      );
      if (quantity === "volume" && drum) stateOf(drum.id).volumeL = valid ? value : null;
      if (subject.kind === "float" && subject.id.endsWith(".stop") && drum) {
        if (valid) takeFloat(drum, value === 1, tMs);
        else stateOf(drum.id).stopWet = null;
      }
      lookAll(tMs, emit);
    },
    gone({ subject, quantity }: Gone, nowMs: number, emit: Emit<FillOutcome>): void {
      if (quantity === "conductivity25") delete kappas[subject.id];
      if (quantity === "volume" && drums[subject.id]) (drums[subject.id] as DrumState).volumeL = null;
      if (told(quantity)) lookAll(nowMs, emit);
    },
    run(run: RunState): void {
      runs[run.point] = run;
    },
    restarted(nowMs: number, emit: Emit<FillOutcome>): void {
      lookAll(nowMs, emit);
    },
    /** A person's fill, and the release of a drum; null when taken, else why not. */
    act(act: Act, nowMs: number, emit: Emit<FillOutcome>): "no-such-drum" | "not-possible-in-state" | null {
      if (act.type !== "fill-started" && act.type !== "fill-stopped" && act.type !== "release") return null;
      const drum = line?.drums.find(({ id }) => id === act.drum);
      if (!drum) return "no-such-drum";
      const state = stateOf(drum.id);
      if (act.type === "release") {
        if (!state.hold && act.reason !== "dumped") return "not-possible-in-state";
        state.hold = null;
        if (act.reason === "dumped") state.contents = emptyContents;
        // A person looked at it: what nobody watched is answered for.
        else state.contents = { ...state.contents, unwatched: 0 };
        state.everFilled = true;
        tellWater(drum, state, nowMs, emit);
        return null;
      }
      const starts = act.type === "fill-started";
      if (!starts && !state.open) return "not-possible-in-state";
      sources.say(`person/${drum.id}`, { flowing: starts, flowLPerMin: null });
      if (!starts && state.open) state.open.byPerson = true;
      look(drum, nowMs, emit);
      // A person who says that it is over is believed at once, unless something better saw water run.
      if (!starts && state.open && state.inflow.flowing !== true) {
        state.open.stoppedAtMs ??= nowMs;
        close(drum, state, state.open, nowMs, emit);
      }
      return null;
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
        ...(open ? [view(drum, open, null)] : []),
      ]);
    },
    snapshot: (): FillsState => ({ drums, kappas, runs }),
    restore(state: FillsState): void {
      ({ drums, kappas, runs } = structuredClone(state) as unknown as {
        drums: typeof drums;
        kappas: typeof kappas;
        runs: typeof runs;
      });
    },
  };
}
