import type { DrumView, ProofView } from "@drumlin/gateway/contract";
import { count, say, w } from "../words/words.ts";
import { clock } from "./numbers.ts";
import { capital } from "./words.ts";

export type Role = DrumView["floats"][number]["role"];
type Method = ProofView["method"];

/** A float by its role: "Stop float". */
export const floatName = (role: Role): string => capital(w.floatRoles[role]);

/** Ways to try a float, in the order in which they are offered. */
export const methods = (): readonly {
  readonly value: Method;
  readonly words: string;
  readonly shows: string;
}[] => (["lifted", "bucket", "water"] as const).map((value) => ({ value, ...w.floatWords.methods[value] }));

const dayMs = 86_400_000;

/** When a float was seen to work, or that it wants a test: "proved 05:46", "not proved yet", "test due". */
export function provedWords(
  { lastProvenAt, dueAt }: Pick<DrumView["floats"][number], "lastProvenAt" | "dueAt">,
  nowMs: number,
): string {
  const leftDays = dueAt === null ? null : Math.ceil((Date.parse(dueAt) - nowMs) / dayMs);
  const due =
    leftDays === null || leftDays > 14
      ? ""
      : ` · ${leftDays <= 0 ? w.floatWords.testDue : count(w.floatWords.dueIn, leftDays)}`;
  const proved =
    lastProvenAt === null
      ? w.floatWords.notProved
      : say(w.floatWords.proved, { time: clock(lastProvenAt, nowMs) });
  return proved + due;
}

/** What a test of it brings about, said before it begins: nothing keeps the alarm of a wet overflow float back. Null: nothing. */
export const ringsWords = (role: Role): string | null => (role === "overflow" ? w.floatWords.itRings : null);

/** What to do now, by what is waited for. */
export const askedFor = (method: Method, role: Role, waitsFor: "wet" | "dry"): string =>
  capital(say(w.floatWords.asked[waitsFor][method], { float: w.floatRoles[role] }));

/** How a test ended, in one sentence or two. */
export function resultWords({ result, method }: Pick<ProofView, "result" | "method">): string {
  const said = w.floatWords.results[result];
  return result === "passed" ? `${said} ${w.floatWords.methods[method].shows}` : said;
}
