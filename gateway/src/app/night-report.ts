import { subjectOfAct } from "../acts/index.ts";
import type { Line } from "../line/index.ts";
import type { Logbook } from "../logbook/index.ts";
import { foldNight, type Night, type NightOver, type NightRecords, nightOrNext } from "../nights/index.ts";
import { nightWindow } from "../quantities/index.ts";

/** A fill that began so long before the night may reach into it. */
const longestFillMs = 2 * 86_400_000;
/** What is done in the day after a night counts to it, until the next evening. */
const dayMs = 86_400_000;
const maxFills = 2000;

type Book = Pick<
  Logbook,
  | "fills"
  | "seen"
  | "gaps"
  | "lastWords"
  | "wordsIn"
  | "batchesIn"
  | "alarmsStoodAt"
  | "alarmChangesIn"
  | "actsIn"
  | "worksIn"
  | "pastEvents"
  | "night"
  | "nights"
>;

/** A night's hours: as it had them when it was over, else by the line of now. Null: there is no such date. */
function windowOf(book: Book, line: Line, date: string): Omit<NightOver, "kind"> | null {
  const known = book.night(date);
  if (known) return known;
  try {
    const { timezone, night } = line;
    return { ...nightWindow(date, timezone, night.from, night.to), timezone };
  } catch {
    return null;
  }
}

function titlesOf({ drums, points, stages, rooms, title, site }: Line): (subject: string) => string {
  const titles = new Map([...rooms, ...stages, ...points, ...drums].map((one) => [one.id, one.title]));
  return (subject) => titles.get(subject) ?? (subject === site ? title : subject);
}

function recordsOf(book: Book, line: Line, { fromMs, toMs }: NightOver, asOfMs: number): NightRecords {
  const presences = book.pastEvents(fromMs, toMs).filter(({ kind }) => kind === "presence");
  return {
    drums: line.drums.map(({ id }) => id),
    titleOf: titlesOf(line),
    fills: book.fills({ limit: maxFills, fromMs: fromMs - longestFillMs, beforeMs: toMs }),
    ...book.seen(fromMs, toMs),
    wordsBefore: book.lastWords(fromMs),
    words: book.wordsIn(fromMs, asOfMs),
    batches: book.batchesIn(fromMs, asOfMs),
    alarmsBefore: book.alarmsStoodAt(fromMs),
    alarms: book.alarmChangesIn(fromMs, asOfMs),
    acts: book.actsIn(fromMs, asOfMs).map(({ atMs, act }) => ({ atMs, act, subject: subjectOfAct(act) })),
    works: book.worksIn(fromMs, asOfMs),
    nodeStarts: presences
      .filter(({ what }) => (what as { readonly online: boolean }).online)
      .map(({ what }) => (what as { readonly node: string }).node),
  };
}

/** One night, whole; null where the date is none, or the night has not begun. */
export function nightReport(book: Book, line: Line, date: string, nowMs: number): Night | null {
  const window = windowOf(book, line, date);
  if (!window || window.fromMs > nowMs) return null;
  const asOfMs = Math.min(nowMs, window.fromMs + dayMs);
  return foldNight(window, recordsOf(book, line, { kind: "night", ...window }, asOfMs), asOfMs);
}

/** Those of a list in the order of their times that lie in [fromMs, toMs). */
function between<One>(
  sorted: readonly One[],
  timeOf: (one: One) => number,
  fromMs: number,
  toMs: number,
): readonly One[] {
  const firstAtOrAfter = (ms: number) => {
    let [low, high] = [0, sorted.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (timeOf(sorted[middle] as One) < ms) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  return sorted.slice(firstAtOrAfter(fromMs), firstAtOrAfter(toMs));
}

/** Nights, newest first, the running one among them; `before` is the begin of the last one of the page before. */
export function nightLines(
  book: Book,
  line: Line,
  nowMs: number,
  { limit, beforeMs = Number.MAX_SAFE_INTEGER }: { readonly limit: number; readonly beforeMs?: number },
): readonly Night[] {
  const now = nightOrNext(line, nowMs);
  const isRunning = now.fromMs <= nowMs && now.fromMs < beforeMs;
  const over = book.nights(limit, beforeMs).filter(({ date }) => !isRunning || date !== now.date);
  const windows = [...(isRunning ? [{ ...now, timezone: line.timezone }] : []), ...over].slice(0, limit);
  const oldest = windows.at(-1);
  if (!oldest) return [];
  const spanMs = [oldest.fromMs, windows[0]?.toMs ?? nowMs] as const;
  const drums = line.drums.map(({ id }) => id);
  const titleOf = titlesOf(line);
  const limitOfAll = maxFills * windows.length;
  const fills = book
    .fills({ limit: limitOfAll, fromMs: spanMs[0] - longestFillMs, beforeMs: spanMs[1] })
    .toReversed();
  const gaps = book.gaps(...spanMs);
  // Few last so long: all others are found by their begin.
  const long = gaps.filter(({ fromMs, toMs }) => (toMs ?? nowMs) - fromMs > dayMs);
  const changes = book.alarmChangesIn(...spanMs);
  return windows.map((window) => {
    const { fromMs, toMs } = window;
    const short = between(gaps, ({ fromMs: atMs }) => atMs, fromMs - dayMs, toMs);
    const records: NightRecords = {
      drums,
      titleOf,
      fills: between(fills, ({ startedAtMs }) => startedAtMs, fromMs - longestFillMs, toMs),
      gaps: [...long.filter((gap) => !short.includes(gap)), ...short],
      draws: [],
      floats: [],
      batches: [],
      wordsBefore: [],
      words: [],
      alarmsBefore: [],
      alarms: between(changes, ({ atMs }) => atMs, fromMs, toMs),
      acts: [],
      works: [],
      nodeStarts: [],
    };
    return foldNight(window, records, Math.min(nowMs, fromMs + dayMs));
  });
}
