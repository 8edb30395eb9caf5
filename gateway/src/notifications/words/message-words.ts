import type { Alarm } from "../../alarms/index.ts";
import type { Line } from "../../line/index.ts";
import { conditionText, counted, fillIn, type Language, toDoIn, wordsIn } from "../../words/index.ts";
import { type Call, isOpen } from "../call.ts";
import type { Step } from "../due.ts";
import type { CallingAttention } from "../policy.ts";
import { headlineOf } from "./headlines.ts";
import { clockWords, durationWords } from "./times.ts";

/** What words are made of. Times of calls are the calendar's here. */
export interface Wording {
  readonly line: Line | null;
  readonly zone: string;
  readonly nowMs: number;
  readonly language: Language;
  /** All calls that are followed: what came of the one that is told. */
  readonly calls: readonly Call[];
  /** Where the page is; null: nobody said. */
  readonly page: string | null;
  /** A single-use link that marks the call as seen, if this destination may have one. */
  readonly seenLink: (call: Call) => string | null;
}

/** One call in a message, in words. */
export interface ToldAlarm {
  readonly attention: CallingAttention;
  readonly headline: string;
  /** "Since 02:13 · contents 176 L, limit 170 L". */
  readonly facts: string;
  /** "Still not seen after 10 min", "Ended 02:40"; empty for a first call. */
  readonly news: string;
  /** It has ended, and may wait for a reset: nothing of it is urgent. */
  readonly isOver: boolean;
  readonly todo: string;
  readonly stake: string;
  readonly consequences: readonly string[];
  readonly link: string | null;
  readonly seenLink: string | null;
}

/** A message in words; each way puts them into its own form. */
export interface MessageWords {
  readonly language: Language;
  /** One line, no control characters. */
  readonly subject: string;
  readonly attention: CallingAttention;
  readonly alarms: readonly ToldAlarm[];
  /** How many more there are than are told in full. */
  readonly more: number;
  readonly late: string | null;
  readonly site: string;
  /** Last night in one line, in a morning list. */
  readonly night: string | null;
}

/** Alarms that one message tells in full; the rest is a count. */
const maxTold = 5;
const maxConsequences = 5;
/** A message that was delivered later than this says so. */
const lateAfterMs = 5 * 60_000;

const urgency: Readonly<Record<CallingAttention, number>> = { wake: 2, tell: 1, today: 0 };
/** What a call's own steps are worth beside others in a message. */
const stepOrder: Readonly<Record<Step, number>> = {
  call: 0,
  again: 1,
  today: 2,
  ended: 3,
  seen: 4,
  silenced: 5,
};

const quantities: Readonly<
  Record<
    string,
    readonly [name: "conductivity" | "temperature" | "contents" | "flow" | "share", unit: string]
  >
> = {
  "uS/cm": ["conductivity", "µS/cm"],
  Cel: ["temperature", "°C"],
  L: ["contents", "L"],
  "L/min": ["flow", "L/min"],
  "%": ["share", "%"],
};

const figure = (value: number, language: Language): string =>
  value.toLocaleString(language, {
    useGrouping: false,
    ...(Math.abs(value) >= 100 ? { maximumFractionDigits: 0 } : { maximumSignificantDigits: 3 }),
  });

/** Conditions whose litres are what a drum holds; the litres of others are drawn, filled, or a difference. */
const ofContents: ReadonlySet<string> = new Set(["drum-not-stopping", "drum-high-high", "drum-low"]);

/** The number with its name, and its limit: "conductivity 8.4 µS/cm, limit 5". */
function numberWords({ condition, value, limit, unit }: Alarm, language: Language): string {
  const known = quantities[unit];
  if (value === null || known === undefined) return "";
  const { messages } = wordsIn(language);
  const [name, shown] = known;
  const bound = limit === null ? "" : `, ${fillIn(messages.limit, { value: figure(limit, language) })}`;
  const named = unit === "L" && !ofContents.has(condition) ? "" : `${messages[name]} `;
  return `${named}${figure(value, language)} ${shown}${bound}`;
}

/** One line of text without anything that could end it. */
export const onOneLine = (text: string): string => text.replaceAll(/[\p{Cc}\u2028\u2029]+/gu, " ").trim();

function newsOf(call: Call, steps: ReadonlySet<Step>, { nowMs, zone, language }: Wording): string {
  const { messages } = wordsIn(language);
  const at = (ms: number) => ({ time: clockWords(ms, nowMs, zone, language) });
  const words: string[] = [];
  if (call.endedAtMs !== null) {
    const reset = call.alarm.latched ? `, ${messages.needsReset}` : "";
    words.push(`${fillIn(messages.ended, at(call.endedAtMs))}${reset}`);
  }
  if (call.seenAtMs !== null) {
    const person = onOneLine(call.seenBy ?? messages.somebody);
    words.push(fillIn(messages.seenBy, { person, ...at(call.seenAtMs) }));
  } else if (call.silencedAtMs !== null) words.push(fillIn(messages.silenced, at(call.silencedAtMs)));
  else if (isOpen(call) && steps.has("again"))
    words.push(fillIn(messages.notSeen, { duration: durationWords(nowMs - call.calledAtMs, language) }));
  return words.join(" · ");
}

function toldAlarm(call: Call, steps: ReadonlySet<Step>, wording: Wording): ToldAlarm {
  const { line, zone, nowMs, language, calls, page, seenLink } = wording;
  const { alarm } = call;
  const { consequence } = conditionText(alarm.condition, language);
  const isOver = call.endedAtMs !== null;
  const todo = toDoIn(language, { condition: alarm.condition, isOver, told: alarm.response });
  const since = fillIn(wordsIn(language).messages.since, {
    time: clockWords(call.calledAtMs, nowMs, zone, language),
  });
  const open = isOpen(call);
  return {
    attention: call.attention,
    headline: onOneLine(headlineOf(alarm, line, language)),
    facts: [since, call.endedAtMs === null ? numberWords(alarm, language) : ""]
      .filter((one) => one !== "")
      .join(" · "),
    news: newsOf(call, steps, wording),
    isOver,
    // What it told when it was raised, where that is the language.
    todo: !open ? "" : language === "en" && !isOver ? alarm.response : todo,
    stake: open && !isOver ? consequence : "",
    consequences: calls
      .filter((one) => one.isConsequence && one.alarm.under === call.key && one.endedAtMs === null)
      .slice(0, maxConsequences)
      .map((one) => onOneLine(headlineOf(one.alarm, line, language))),
    link: page === null ? null : `${page}/#alarms?at=${encodeURIComponent(call.key)}`,
    seenLink: open ? seenLink(call) : null,
  };
}

function subjectOf(first: ToldAlarm, count: number, isList: boolean, language: Language): string {
  const { messages, attentions } = wordsIn(language);
  if (isList) {
    const rest = count === 1 ? first.headline : counted(language, messages.thingsToLookAt, count);
    return onOneLine(`${attentions.today} · ${rest}`);
  }
  const lead = first.isOver || first.todo === "" ? first.news.split(" · ")[0] : attentions[first.attention];
  const rest = count === 1 ? "" : ` · ${counted(language, messages.andMore, count - 1)}`;
  return onOneLine(`${lead} · ${first.headline}${rest}`);
}

/**
 * What a message says, the most urgent first: what, where, since when, the number and its limit, what to do first, what is
 * at stake, where to look. `entries`: calls with what is told of them.
 */
export function messageWords(
  entries: readonly { readonly call: Call; readonly step: Step }[],
  {
    madeMs,
    list,
    night = null,
  }: { readonly madeMs: number; readonly list: boolean; readonly night?: string | null },
  wording: Wording,
): MessageWords {
  const steps = new Map<string, Set<Step>>();
  const byCall = new Map<string, Call>();
  for (const { call, step } of entries) {
    steps.set(call.id, (steps.get(call.id) ?? new Set()).add(step));
    byCall.set(call.id, call);
  }
  const orderOf = ({ id }: Call) => Math.min(...[...(steps.get(id) ?? [])].map((step) => stepOrder[step]));
  const calls = [...byCall.values()].sort(
    (a, b) =>
      Number(isOpen(b)) - Number(isOpen(a)) ||
      urgency[b.attention] - urgency[a.attention] ||
      orderOf(a) - orderOf(b) ||
      a.calledAtMs - b.calledAtMs,
  );
  const told = calls
    .slice(0, maxTold)
    .map((call) => toldAlarm(call, steps.get(call.id) ?? new Set(), wording));
  const [first] = told;
  const { line, nowMs, zone, language } = wording;
  const { messages } = wordsIn(language);
  const isLate = nowMs - madeMs > lateAfterMs;
  return {
    subject: first ? subjectOf(first, calls.length, list, language) : messages.nothing,
    attention: first?.attention ?? "today",
    alarms: told,
    more: calls.length - told.length,
    late: isLate ? fillIn(messages.late, { time: clockWords(madeMs, nowMs, zone, language) }) : null,
    language,
    site: onOneLine(line?.title ?? "Drumlin"),
    night,
  };
}
