import { buildLine } from "./build/build-line.ts";
import { findContradictions } from "./contradictions.ts";
import { checkLimitSubjects, type LimitRules, readLimits, usualRules } from "./limits.ts";
import type { LineFault, LineResult } from "./line.ts";
import { locatedYaml } from "./locate.ts";
import { type LineFile, lineFileSchema } from "./schema.ts";
import { faultsOf, maxFaults, strangeKeys } from "./schema-faults.ts";
import { warnLikeAColleague } from "./warnings.ts";

function zoneKnown(zone: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: zone });
    return true;
  } catch {
    return false;
  }
}

/** What rooms that come later know of a line file. */
export interface LineRules {
  readonly limits?: LimitRules;
}

/**
 * Reads a line file: every fault at once, each with line, column and what to write instead; warnings beside it.
 * `zone` is used where the file names no timezone; `limits` say what the file may set of which condition. Never throws.
 */
export function readLine(text: string, zone = "UTC", { limits = usualRules }: LineRules = {}): LineResult {
  const located = locatedYaml(text);
  if (located.faults.length > 0) return { ok: false, faults: located.faults };
  const shaped = lineFileSchema.safeParse(located.value, { reportInput: false });
  const faults: LineFault[] = strangeKeys(located);
  if (!shaped.success)
    faults.push(...shaped.error.issues.slice(0, maxFaults).flatMap((issue) => faultsOf(issue, located)));
  if (!shaped.success || faults.length > 0)
    return { ok: false, faults: faults.sort(byPosition).slice(0, maxFaults) };
  const say =
    (severity: LineFault["severity"]) =>
    (code: string, path: readonly PropertyKey[], message: string, instead: string): void => {
      faults.push({
        code,
        severity,
        ...located.at(path),
        path: path.map(String).join("."),
        message,
        instead,
      });
    };
  const file: LineFile = shaped.data;
  if (file.timezone !== undefined && !zoneKnown(file.timezone)) {
    say("error")(
      "timezone-unknown",
      ["timezone"],
      `${file.timezone} is no time zone.`,
      "Write one such as Europe/Berlin.",
    );
  }
  if (Object.keys(file.points).length === 0)
    say("error")("no-points", ["points"], "The line has no point.", "Name at least the supply.");
  findContradictions(file, say("error"));
  const conditions = readLimits(file, limits, say("error"));
  const line = buildLine(file, { zone, conditions, complain: say("error") });
  checkLimitSubjects(line, limits, file, say("error"));
  if (faults.length > 0) return { ok: false, faults: faults.sort(byPosition) };
  warnLikeAColleague(line, file, say("warning"));
  return { ok: true, line, faults: faults.sort(byPosition) };
}

function byPosition(a: LineFault, b: LineFault): number {
  return a.line - b.line || a.column - b.column;
}
