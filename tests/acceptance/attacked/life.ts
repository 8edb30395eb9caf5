import type { AlarmChange } from "@drumlin/gateway/alarms";
import type { Fill } from "@drumlin/gateway/fills";
import { beginMs } from "../line-bench.ts";
import { Wet } from "./house.ts";
import { type WetHouse, type WetKit, wetLine } from "./works.ts";

type Verdict = "use" | "hold" | "unknown";

/** What must come out of a scenario, written down before it was run. */
interface Expected {
  /** Conditions that must call somebody; no others may, but for `may`. */
  readonly told?: readonly string[];
  readonly may?: readonly string[];
  /** Drums for which somebody may be woken; none if not said. */
  readonly wakes?: readonly string[];
  /** Somebody is called by then, s; `brim`: woken before the first drum runs over. */
  readonly by?: number;
  readonly brim?: true;
  /** Fills that ended since `fromS`, and how many of them with their trip confirmed. */
  readonly fills?: number;
  readonly confirmed?: number;
  /** Litres of all fills against the truth, percent. */
  readonly litresWithin?: number;
  readonly word?: readonly Verdict[];
}

export interface Scenario {
  readonly name: string;
  readonly kit: WetKit;
  readonly house: WetHouse;
  readonly toS: number;
  /** Calls and fills count from here on, s. */
  readonly fromS?: number;
  /** What people do: an act, or a new line file. */
  readonly acts?: readonly (readonly [atS: number, act: object | string])[];
  readonly expected: Expected;
  /** It came out otherwise once, by a fault that was mended. */
  readonly isMended?: true;
}

/** The word may lag behind bad water by a minute of judging and a period of its nodes, s. */
const lagS = 240;
/** Behind resin, uS/cm. */
const band = 10;

/** What was told of a scenario, as a log to read. */
export interface Told {
  readonly surprises: readonly string[];
  readonly log: readonly string[];
}

export function liveThrough({ name, kit, house, toS, fromS = 6000, acts = [], expected }: Scenario): Told {
  const wet = new Wet(kit, house);
  const { bench } = wet;
  const log: string[] = [];
  const words = new Map<string, Verdict>();
  const badSince = new Map<string, number>();
  const usedBadS = new Map<string, number>();
  const calls: AlarmChange[] = [];
  const fills = new Map<string, Fill>();
  const due = [...acts];
  let heard = 0;
  const bandOf = kit.medium === "membrane" ? 48 : band;

  function hear(): void {
    for (; heard < bench.outcomes.length; heard += 1) {
      const one = bench.outcomes[heard];
      if (one?.kind === "drum-water") {
        if (words.get(one.drum) !== one.verdict)
          log.push(`${wet.nowS} ${one.drum} ${one.verdict} ${one.reasons.join("; ")}`);
        words.set(one.drum, one.verdict);
      }
      if (one?.kind === "fill") {
        if (one.withdrawn) fills.delete(one.id);
        else fills.set(one.id, one);
      }
      if (one?.kind === "alarm" && one.why !== "judged" && one.why !== "not-judged") {
        const { alarm, annunciated, to, why } = one;
        log.push(
          `${wet.nowS} ${annunciated ? "CALL " : ""}${alarm.key} ${why} ${to} ${alarm.attention} ${alarm.text ?? ""}`,
        );
        if (annunciated) calls.push(one);
      }
    }
  }
  function watchWord(): void {
    for (const drum of wet.drums) {
      if (drum.kappa25 <= bandOf) badSince.delete(drum.id);
      else if (!badSince.has(drum.id)) badSince.set(drum.id, wet.nowS);
      const isLate = wet.nowS - (badSince.get(drum.id) ?? wet.nowS) > lagS;
      if (isLate && words.get(drum.id) === "use") usedBadS.set(drum.id, (usedBadS.get(drum.id) ?? 0) + 1);
    }
  }
  wet.live(toS, () => {
    while (due[0] && due[0][0] <= wet.nowS) {
      const [, act] = due.shift() as (typeof acts)[number];
      if (act === "saved again") bench.line(`${wetLine(kit, house.drums ?? [{}])}# again\n`, wet.gatewayS());
      else if (typeof act === "string") bench.line(act, wet.gatewayS());
      else {
        const key = (act as { key?: string }).key;
        const standing = bench.standing().find((alarm) => alarm.key === key);
        const refused = bench.act(
          key ? { ...act, occurrence: standing?.occurrence ?? "" } : act,
          wet.gatewayS(),
        );
        log.push(`${wet.nowS} act ${JSON.stringify(act)} ${refused ?? "taken"}`);
      }
    }
    hear();
    watchWord();
  });

  const surprises: string[] = [];
  const after = (ms: number) => (ms - beginMs) / 1000 >= fromS;
  const told = [...new Set(calls.map(({ alarm }) => alarm.condition))].sort();
  const allowed = new Set([...(expected.told ?? []), ...(expected.may ?? [])]);
  for (const condition of expected.told ?? [])
    if (!told.includes(condition)) surprises.push(`nobody was told ${condition}`);
  for (const condition of told) if (!allowed.has(condition)) surprises.push(`told ${condition}`);
  for (const { alarm } of calls) {
    const drum = alarm.subject.split(".")[0] ?? "";
    if (alarm.attention === "wake" && !(expected.wakes ?? []).includes(drum))
      surprises.push(`woken by ${alarm.key}`);
  }
  const early = calls.filter(({ atMs }) => !after(atMs));
  if (early.length > 0) surprises.push(`called too early: ${early.map(({ alarm }) => alarm.key).join(", ")}`);
  const firstS = calls[0] ? (calls[0].atMs - beginMs) / 1000 : null;
  if (expected.by !== undefined && (firstS === null || firstS > expected.by))
    surprises.push(`first told at ${firstS} s, not by ${expected.by} s`);
  for (const drumId of expected.wakes ?? []) {
    const woken = calls.find(
      ({ alarm }) => alarm.attention === "wake" && alarm.subject.split(".")[0] === drumId,
    );
    const { overAtS } = wet.drums.find(({ id }) => id === drumId) ?? { overAtS: null };
    if (!woken) surprises.push(`nobody was woken for ${drumId}`);
    else if (expected.brim && overAtS !== null && (woken.atMs - beginMs) / 1000 > wet.gatewayS(overAtS))
      surprises.push(`woken at ${(woken.atMs - beginMs) / 1000} s, over at ${overAtS} s`);
  }
  const known = [...fills.values()];
  const ended = known.filter(({ endedAtMs, startedAtMs }) => endedAtMs !== null && after(startedAtMs));
  for (const { id, startedAtMs, endedAtMs, litres, end, tripConfirmed, estimated, watched } of known)
    log.push(
      `fill ${id.split("@")[0]} ${(startedAtMs - beginMs) / 1000}–${endedAtMs === null ? "…" : (endedAtMs - beginMs) / 1000} ${litres?.toFixed(1)} L ${end} confirmed ${tripConfirmed} ${estimated ? "estimated" : ""} watched ${watched.toFixed(2)}`,
    );
  for (const drum of wet.drums)
    log.push(
      `true ${drum.id}: in ${drum.inL.toFixed(1)} L, now ${drum.litres.toFixed(1)} L of ${drum.kappa25.toFixed(1)} uS/cm, over at ${drum.overAtS}, inflows ${drum.inflows
        .filter(({ litres }) => litres > 0.5)
        .map(({ fromS: a, toS: b, litres }) => `${a}–${b} ${litres.toFixed(1)}`)
        .slice(-6)
        .join(", ")}`,
    );
  if (expected.fills !== undefined && ended.length !== expected.fills)
    surprises.push(`${ended.length} fills, not ${expected.fills}`);
  const confirmed = ended.filter(({ tripConfirmed }) => tripConfirmed).length;
  if (expected.confirmed !== undefined && confirmed !== expected.confirmed)
    surprises.push(`${confirmed} trips confirmed, not ${expected.confirmed}`);
  if (expected.litresWithin !== undefined) {
    const sum = known.reduce((all, { litres }) => all + (litres ?? 0), 0);
    const truth = wet.drums.reduce((all, { inL }) => all + inL, 0);
    const off = (100 * Math.abs(sum - truth)) / truth;
    if (off > expected.litresWithin) surprises.push(`${sum.toFixed(1)} L told, ${truth.toFixed(1)} L true`);
  }
  for (const [drum, s] of usedBadS) surprises.push(`use said of ${drum} for ${s} s of bad water`);
  if (expected.word)
    for (const { id } of wet.drums) {
      const verdict = words.get(id) ?? "unknown";
      if (!expected.word.includes(verdict)) surprises.push(`${id}: ${verdict}`);
    }
  return { surprises, log: [`# ${name}`, ...log] };
}
