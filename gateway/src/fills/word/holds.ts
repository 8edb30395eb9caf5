import type { StageContext } from "../../path/index.ts";
import type { PastHold } from "../../readings/index.ts";
import { backFlowCell, chlorineCell, feedCell } from "../cells.ts";
import type { Chlorine } from "../chlorine/chlorine.ts";
import { carbonBefore, inDrum } from "../chlorine/tested-where.ts";
import { bandByFeed25 } from "../drum-band.ts";
import { type DrumWater, type Fill, reasonsOf } from "../fill.ts";
import { matterOf, type Reason } from "../reason.ts";
import type { DrumPlace } from "../record/drum-record.ts";
import { whole } from "./book.ts";
import type { DrumWord } from "./drum-word.ts";
import { blendOf } from "./verdict.ts";
import type { Words } from "./words-state.ts";

type Context = StageContext<DrumWater>;

/** While a fill runs its blend is judged as if the drum were at least so full: first water into an empty drum is no fault. */
const leastFullShare = 0.2;

/** What a drum's word is judged by. */
export interface Judged {
  readonly place: DrumPlace;
  readonly word: DrumWord;
  /** The running or last fill. */
  readonly fill: Fill | null;
  readonly nowMs: number;
}

/** Band of a drum's water now, uS/cm; null: none. */
export function bandOf({ band25, feedAt }: DrumPlace, ctx: Pick<Context, "get">): number | null {
  if (band25 !== "by-feed") return band25;
  return bandByFeed25(feedAt === null ? null : ctx.get(feedCell, feedAt));
}

/** Puts the word on hold; an earlier reason of the same matter gives way to the figure of now. */
function hold(word: DrumWord, reason: Reason, nowMs: number): void {
  const known = word.heldFor.findIndex((one) => matterOf(one) === matterOf(reason));
  if (known === -1) word.heldFor.push(reason);
  else word.heldFor[known] = reason;
  word.heldSinceMs ??= nowMs;
}

/**
 * Water of a fill that came in after a person had answered: of one that began before it only where it ran on for over a minute. Till
 * then its end may not have been heard, and what is left in the pipe is next to nothing.
 */
const runsOnMs = 60_000;
function cameSince({ answeredMs }: DrumWord, fill: Fill | null, nowMs: number): boolean {
  if (fill === null) return false;
  const lastMs = fill.endedAtMs ?? fill.pausedSinceMs ?? nowMs;
  return fill.startedAtMs > answeredMs || lastMs - answeredMs > runsOnMs;
}

/** Water came back on the way to the drum, and nobody has answered for it, or water ran through there since. */
function holdForBackFlow(all: Words, { place: { drum }, word, fill, nowMs }: Judged, ctx: Context): void {
  for (const { point, title, drums } of all.comesBack.values()) {
    const found = drums.includes(drum.id) ? ctx.get(backFlowCell, point) : undefined;
    if (!found) continue;
    const isNew = found.sinceMs > word.answeredMs || cameSince(word, fill, nowMs);
    if (isNew) hold(word, { code: "back-flow", values: { point: title } }, ctx.nowMs);
  }
}

/** What was found of the water that fills a drum, and where: in the drum itself, behind carbon, or where there is none. */
function chlorineFound({ failed, tests = {} }: Chlorine, hasCarbon: boolean): Reason | null {
  if (failed === null) return null;
  if (failed.inDrum) return { code: "chlorine-in-drum", values: { value: failed.value } };
  const behind = Object.entries(tests).flatMap(([where, test]) =>
    where !== inDrum && test.failed ? [test.failed] : [],
  );
  const { value } = behind.sort((one, other) => one.atMs - other.atMs).at(-1) ?? failed;
  return { code: hasCarbon ? "chlorine-passes" : "chlorine-comes", values: { value } };
}

/** Chlorine comes with what fills it, and it was filled since a test last passed; or it was found in the drum itself. */
function holdForChlorine(all: Words, { place: { drum }, word, fill, nowMs }: Judged, ctx: Context): void {
  const known = ctx.get(chlorineCell, drum.id);
  if (!known) return;
  const { failed, own, passedMs } = known;
  // Whenever it was filled, and whatever has passed before it since.
  if (own && own.enteredMs > word.answeredMs)
    hold(word, { code: "chlorine-in-drum", values: { value: own.value } }, ctx.nowMs);
  const found = chlorineFound(known, all.line !== null && carbonBefore(all.line, drum) !== "");
  if (!failed || !found || !fill) return;
  const isFilledSince = passedMs === null || (fill.endedAtMs ?? ctx.nowMs) > passedMs;
  const isNew = failed.enteredMs > word.answeredMs || cameSince(word, fill, nowMs);
  if (isFilledSince && isNew) hold(word, found, ctx.nowMs);
}

/** A derivation found that bad water came in, of which nobody knew: on hold, unless a person answered for it since. */
export function holdForPast(word: DrumWord, { atMs, because }: PastHold, nowMs: number): void {
  if (atMs > word.answeredMs) for (const reason of because) hold(word, reason, nowMs);
}

/**
 * What water may read, uS/cm at 25 °C, since a person tested it and answered for it; none where the line file asks for less now than
 * when they did: they said nothing of that. A band that follows the feed asks for less by itself at times, and that is no question.
 */
function excused25({ band25 }: DrumPlace, { tested25, release }: DrumWord): number {
  if (tested25 === null) return 0;
  const answeredUpTo = release?.over25 ?? tested25;
  return typeof band25 === "number" && band25 < answeredUpTo ? 0 : 1.1 * tested25;
}

/** Puts on hold for water over the limit that came in since a person last answered for it, or for the blend. */
export function judge(all: Words, judged: Judged, ctx: Context): void {
  const { place, word, fill, nowMs } = judged;
  const { drum } = place;
  if (fill?.badAtMs != null && fill.badAtMs > word.answeredMs)
    for (const reason of reasonsOf(fill)) if (reason.code === "over-limit") hold(word, reason, nowMs);
  holdForBackFlow(all, judged, ctx);
  holdForChlorine(all, judged, ctx);
  const band = bandOf(place, ctx);
  if (band === null) return;
  const limit = Math.max(band, excused25(place, word));
  const parts = whole(word.book);
  const running = fill !== null && fill.endedAtMs === null;
  const least = running ? leastFullShare * drum.volumeL : 0.02 * drum.volumeL;
  if (parts.watchedL < 0.01 * drum.volumeL || parts.dose <= limit * Math.max(parts.watchedL, least)) return;
  const blend25 = blendOf(parts) ?? 0;
  hold(word, { code: "blend", values: { blend: Number(blend25.toPrecision(3)), band } }, nowMs);
}
