import { z } from "zod";
import type { LimitRules, ThingKind } from "../line/index.ts";
import { conditionText } from "../words/index.ts";
import type { AnyCondition } from "./condition.ts";
import { conditionRows } from "./registry.ts";
import type { AlarmSubjectKind } from "./subject.ts";

/** A condition in words, for documents, API and pages. */
export interface ConditionDescription {
  readonly id: string;
  readonly subjects: readonly AlarmSubjectKind[];
  readonly title: string;
  readonly when: string;
  readonly attention: string;
  readonly unit: string;
  readonly cause: string;
  readonly consequence: string;
  readonly response: string;
  readonly source: string;
  /** What a line file may set, by name, in words: "percent from 1 to 90". */
  readonly settings: ReadonlyMap<string, string>;
  readonly isLatching: boolean;
}

function settingsIn(settings: z.ZodObject): ReadonlyMap<string, string> {
  return new Map(
    Object.entries(settings.shape).map(([name, setting]) => {
      const inner =
        setting instanceof z.ZodOptional ? (setting.unwrap() as z.ZodType) : (setting as z.ZodType);
      return [name, inner.description ?? ""] as const;
    }),
  );
}

function describe({ id, subjectKinds, words, settings, isLatching }: AnyCondition): ConditionDescription {
  const { headline: _, ...texts } = conditionText(id);
  return { id, subjects: subjectKinds, ...texts, ...words, settings: settingsIn(settings), isLatching };
}

/** Every condition in words, in the order in which they are listed. */
export const describeConditions = (
  rows: readonly AnyCondition[] = conditionRows,
): readonly ConditionDescription[] => rows.map(describe);

const thingOf = (kind: AlarmSubjectKind): ThingKind | "site" =>
  kind === "site" || kind === "gateway" ? "site" : kind;

/** What a line file may set of each condition, for `readLine`. */
export const limitRules: LimitRules = new Map(
  conditionRows.map(({ id, settings, subjectKinds }) => [
    id,
    { settings, subjects: subjectKinds.map(thingOf) },
  ]),
);
