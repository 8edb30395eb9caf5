import { createHash } from "node:crypto";
import type { Outcome } from "@drumlin/gateway/app";
import { seriesOf } from "@drumlin/gateway/measurements";
import { lifeBeginMs } from "./house-life.ts";

/** Conditions that were judged when the lives were made; those that came later tell of the same house besides. */
export const goldenConditions: readonly string[] = [
  "resin-breakthrough",
  "drum-high-high",
  "drum-not-stopping",
];

/** Parts of what comes out of a life, each with a digest of its own. */
export const sections = ["measurements", "fills", "words", "alarms", "judging", "acts"] as const;
/**
 * Sections in which this version is held to the one before. What runs, fills, words and alarms mean was written anew
 * since (witnesses, stop guard, bookkeeping of each drum), so that those are held by their own tests.
 */
export const heldSections = ["measurements"] as const satisfies readonly (typeof sections)[number][];
export type Section = (typeof sections)[number];
export type Projection = Readonly<Record<Section, readonly string[]>>;

const seconds = (ms: number | null) => (ms === null ? "-" : ((ms - lifeBeginMs) / 1000).toFixed(3));
// Sums may be added up in another order: the last digits of a double are not the same then.
const short = (value: number | null) => (value === null ? "null" : Number(value.toPrecision(7)).toString());

interface Line {
  readonly atMs: number;
  readonly key: string;
  readonly text: string;
}

/** By time and key; what has both in common stays as it came. */
function sorted(lines: readonly Line[]): string[] {
  return lines
    .map((line, index) => ({ ...line, index }))
    .sort((a, b) => a.atMs - b.atMs || (a.key < b.key ? -1 : a.key > b.key ? 1 : a.index - b.index))
    .map(({ atMs, key, text }) => `${seconds(atMs)} ${key} ${text}`);
}

function plainFill(fill: Extract<Outcome, { kind: "fill" }>): string {
  const { kind: _kind, id: _id, drum: _drum, revision: _revision, ...rest } = fill;
  const fields = Object.entries(rest).map(([name, value]) => {
    const text =
      typeof value !== "number" ? JSON.stringify(value) : name.endsWith("Ms") ? seconds(value) : short(value);
    return `${name} ${text}`;
  });
  return fields.sort().join(", ");
}

/** What a life must go on giving, whatever ids are called and in whichever order things come inside a step. */
export function project(outcomes: readonly Outcome[]): Projection {
  const lines: Record<Section, Line[]> = {
    measurements: [],
    fills: [],
    words: [],
    alarms: [],
    judging: [],
    acts: [],
  };
  for (const outcome of outcomes) {
    if (outcome.kind === "measurement") {
      const text = `${short(outcome.value)} ${outcome.flag}`;
      lines.measurements.push({ atMs: outcome.tMs, key: seriesOf(outcome), text });
    } else if (outcome.kind === "fill" && outcome.endedAtMs !== null)
      lines.fills.push({ atMs: outcome.startedAtMs, key: outcome.drum, text: plainFill(outcome) });
    else if (outcome.kind === "drum-water") {
      const text = [outcome.verdict, ...outcome.reasons].join(" | ");
      lines.words.push({ atMs: outcome.atMs, key: outcome.drum, text });
    } else if (outcome.kind === "alarm") {
      const { atMs, alarm, from, to, why, annunciated } = outcome;
      if (!goldenConditions.includes(alarm.condition)) continue;
      if (why === "judged" || why === "not-judged")
        lines.judging.push({ atMs, key: alarm.key, text: `${why} ${alarm.judged.because ?? ""}` });
      else
        lines.alarms.push({ atMs, key: alarm.key, text: `${from} > ${to} ${why}${annunciated ? " !" : ""}` });
    } else if (outcome.kind === "act-done") {
      const text = `${outcome.act.type} ${outcome.refused?.code ?? "taken"}`;
      lines.acts.push({ atMs: outcome.atMs, key: outcome.act.id, text });
    }
  }
  return Object.fromEntries(
    sections.map((section) => [section, sorted(lines[section])]),
  ) as unknown as Projection;
}

/** Twelve signs that stand for the lines of a section. */
export function digest(lines: readonly string[]): string {
  return createHash("sha256").update(lines.join("\n")).digest("hex").slice(0, 12);
}
