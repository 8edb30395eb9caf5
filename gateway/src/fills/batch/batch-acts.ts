import type { Act, ActRefused, BatchStep } from "../../acts/index.ts";
import { type SentenceCode, say, type Values } from "../../words/index.ts";
import { type BatchNow, isBeingMixed, isSalted } from "./batch.ts";
import { addingMs, probeLifeMs, steadyMs } from "./batch-limits.ts";
import { goTo, startAnew } from "./follow-batch.ts";
import { type Band, bandFigures, figure, isInBand } from "./readiness.ts";

/** What an act on a batch is judged by. */
export interface ActFacts {
  readonly title: string;
  /** The drum is one in which salt is mixed. */
  readonly holdsSalt: boolean;
  readonly now: BatchNow | undefined;
  readonly band: Band;
  /** A fill of it runs. */
  readonly isFilling: boolean;
  readonly nowMs: number;
}

const refused = (code: SentenceCode, values: Values = {}): ActRefused => ({
  code: "not-possible-in-state",
  message: say(code, values),
});

function notReady(act: BatchStep, { now, band, nowMs }: ActFacts): ActRefused | null {
  if (!now || !isBeingMixed(now.state)) return refused("no-salt-to-be-ready");
  const restedMs = nowMs - now.addedMs;
  if (restedMs < steadyMs) return refused("rest-first", { minutes: Math.floor(restedMs / 60_000) });
  const isProbed = now.probedMs !== null && nowMs - now.probedMs <= probeLifeMs;
  const salinity = act.salinity ?? (isProbed ? now.salinity : null);
  if (salinity === null) return refused("salinity-missing");
  if (isInBand(band, salinity) || band === null) return null;
  return refused("salinity-not-wanted", { salinity: figure(salinity), ...bandFigures(band) });
}

function stepRefused(act: BatchStep, facts: ActFacts): ActRefused | null {
  const { now, title, holdsSalt, isFilling } = facts;
  const state = now?.state ?? "unknown";
  if (!holdsSalt) return refused("holds-fresh", { drum: title });
  switch (act.step) {
    case "salted":
      if (isFilling) return refused("salt-while-filling");
      if (state === "empty") return refused("salt-into-nothing");
      return state === "heel" ? refused("salt-onto-heel") : null;
    case "mixing":
      return state === "salted" ? null : refused("no-salt-yet");
    case "ready":
      return notReady(act, facts);
    case "in-use":
      return state === "ready" ? null : refused("batch-is-not-ready");
    case "heel":
      return state === "ready" || state === "in-use" ? null : refused("batch-is-not-in-use");
    case "adding-water":
      return isSalted(state) && state !== "heel" ? null : refused("no-salt-water");
  }
}

/** Why an act that this room's batches decide on can't be taken; null when it can. */
export function batchRefusal(act: Act, facts: ActFacts): ActRefused | null {
  if (act.type === "batch") return stepRefused(act, facts);
  const { now, nowMs } = facts;
  if (act.type !== "fill-started" || !now || !isSalted(now.state) || nowMs <= now.waterUntilMs) return null;
  return refused(now.state === "heel" ? "fill-onto-heel" : "fill-onto-salt");
}

/** Puts a step into force. */
export function takeStep(now: BatchNow, act: BatchStep, nowMs: number): void {
  switch (act.step) {
    case "salted":
      now.salt.push({ atMs: nowMs, by: act.by, kg: act.kg ?? null, lot: act.lot ?? null });
      startAnew(now, nowMs);
      goTo(now, "salted", nowMs);
      return;
    case "ready":
      if (act.salinity !== undefined) {
        now.salinity = act.salinity;
        now.salinityBy = "hand";
      }
      now.drawnL = null;
      now.offSinceMs = null;
      now.isOff = false;
      goTo(now, "ready", nowMs);
      return;
    case "adding-water":
      now.waterUntilMs = nowMs + addingMs;
      startAnew(now, nowMs);
      goTo(now, "mixing", nowMs);
      return;
    default:
      goTo(now, act.step, nowMs);
  }
}
