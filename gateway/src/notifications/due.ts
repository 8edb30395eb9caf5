import { isSameName } from "../accounts/index.ts";
import { allDevices } from "../alarms/index.ts";
import { type Call, isOpen } from "./call.ts";
import { isDevice } from "./device-id.ts";
import { type CallPolicy, doesTake, isQuiet, type Recipient } from "./policy.ts";

/** What is told of a call: that it is so, that it still is, that somebody saw or silenced it, that it ended; a line of the morning list. */
export type Step = "call" | "again" | "seen" | "silenced" | "ended" | "today";

/** What of a call a destination was told. */
export interface ToldOfCall {
  /** Steps that were put into a message; `again` is there once for all of its times. */
  readonly steps: ReadonlySet<Step>;
  /** When the first message about it was delivered, or made as long as it is not, engine time. */
  readonly firstMs: number;
  /** How often it was told again, as if none had been left out. */
  readonly number: number;
  /** The message with the first step has been delivered. */
  readonly isDelivered: boolean;
  /** A message about it still waits to be delivered. */
  readonly isWaiting: boolean;
}

/** What a destination was told. */
export interface Told {
  of(destination: string, call: string): ToldOfCall | null;
  /** When the last message to it was made, and the last one that wakes, engine time; null: never. */
  lastMadeMs(destination: string): { readonly any: number | null; readonly waking: number | null };
  /** Whether it has had the morning list of that day. */
  hasList(destination: string, date: string): boolean;
}

/** One thing that a message says. */
export interface Entry {
  readonly call: Call;
  readonly step: Step;
  readonly number: number;
}

/** Whether it is something to wake somebody for: not that it was answered. */
export const isWaking = ({ call, step }: Pick<Entry, "call" | "step">): boolean =>
  call.attention === "wake" && step !== "seen" && step !== "silenced";

/** A message that is due. */
export interface DueMessage {
  readonly destination: string;
  readonly entries: readonly Entry[];
  /** Date of a morning list. */
  readonly list: string | null;
}

/** The moment for which is asked: engine time, and what the site's clocks show then. */
export interface Moment {
  readonly nowMs: number;
  /** Minute of the day, 0 to 1439. */
  readonly minute: number;
  /** ISO date. */
  readonly date: string;
}

/** Everything that decides what is due. */
export interface Asked {
  readonly policy: CallPolicy;
  readonly calls: readonly Call[];
  readonly recipients: readonly Recipient[];
  readonly told: Told;
  readonly now: Moment;
}

/** What was called longer ago is no longer news; so long retries go on, too. */
export const newsForMs = 24 * 3_600_000;
/** A morning list that is late by more is left to the next day. */
const listLateByMinutes = 360;

const againMs = ({ wake, tell }: CallPolicy, call: Call): number =>
  call.attention === "wake" ? wake.againMs : tell.againMs;

/** How often it would have been told again by now. One that calls for no waking is told again once. */
function againNumber(policy: CallPolicy, call: Call, sinceFirstMs: number): number {
  const number = Math.floor(sinceFirstMs / againMs(policy, call));
  return call.attention === "wake" ? number : Math.min(1, number);
}

function isFirstDue({ policy, now: { nowMs } }: Asked, recipient: Recipient, call: Call): boolean {
  if (call.seenAtMs !== null || call.silencedAtMs !== null || call.isReplaced) return false;
  if (recipient.turn === "second")
    return isOpen(call) && nowMs >= call.calledAtMs + policy.wake.secondAfterMs;
  return isOpen(call) || nowMs - call.calledAtMs <= newsForMs;
}

/** What is due of a call after it was told. */
function laterSteps(asked: Asked, recipient: Recipient, call: Call, told: ToldOfCall): readonly Entry[] {
  const { policy, now } = asked;
  if (told.isWaiting) return [];
  const number = againNumber(policy, call, now.nowMs - told.firstMs);
  if (isOpen(call) && number > told.number) return [{ call, step: "again", number }];
  if (!told.isDelivered || call.isReplaced) return [];
  const isNews = (atMs: number | null) => atMs !== null && now.nowMs - atMs <= newsForMs;
  const entries: Entry[] = [];
  const news = (step: Step, atMs: number | null, by: string | null) => {
    // Nobody is told what they did themselves; a sounder is nobody.
    const isOwn = by !== null && recipient.who !== null && isSameName(by, recipient.who);
    if (!isOwn && isNews(atMs) && !told.steps.has(step)) entries.push({ call, step, number: told.number });
  };
  news("seen", call.seenAtMs, call.seenBy);
  if (call.seenAtMs === null) news("silenced", call.silencedAtMs, call.silencedBy ?? null);
  news("ended", call.endedAtMs, null);
  return entries;
}

/** A destination is not told by itself that it can't be told anything. */
const isAboutItself = ({ alarm }: Call, { id }: Recipient): boolean =>
  alarm.condition === "delivery-failed" &&
  (alarm.subject === id || (alarm.subject === allDevices && isDevice(id)));

function entriesFor(asked: Asked, recipient: Recipient): readonly Entry[] {
  const { calls, now, told } = asked;
  const quiet = isQuiet(recipient, now.minute);
  return calls.flatMap((call): readonly Entry[] => {
    if (call.attention === "today" || call.isConsequence) return [];
    if (call.calledAtMs < recipient.sinceMs || !doesTake(recipient, call.attention)) return [];
    if (isAboutItself(call, recipient) || (quiet && call.attention !== "wake")) return [];
    const already = told.of(recipient.id, call.id);
    if (already) return laterSteps(asked, recipient, call, already);
    return isFirstDue(asked, recipient, call) ? [{ call, step: "call", number: 0 }] : [];
  });
}

/** Whether entries go out now, or wait for what may come beside them. */
function isGathered(
  { policy, told, now }: Asked,
  { id, gathers }: Recipient,
  entries: readonly Entry[],
): boolean {
  if (!gathers) return true;
  const last = told.lastMadeMs(id);
  const wakes = entries.some(isWaking);
  const since = wakes ? last.waking : last.any;
  return since === null || now.nowMs - since >= policy.gatherMs;
}

/** The lines of the morning list: what has come since the list before, and what nobody has seen yet. */
function listFor({ calls, told, now, policy }: Asked, recipient: Recipient): DueMessage | null {
  const { minute, date } = now;
  if (!doesTake(recipient, "today") || recipient.turn === "second") return null;
  if (minute < policy.todayAtMinute || minute >= policy.todayAtMinute + listLateByMinutes) return null;
  if (told.hasList(recipient.id, date)) return null;
  const entries = calls
    .filter(({ attention, calledAtMs }) => attention === "today" && calledAtMs >= recipient.sinceMs)
    .filter((call) => isOpen(call) || (call.seenAtMs === null && !told.of(recipient.id, call.id)))
    .filter(({ isReplaced, silencedAtMs }) => !isReplaced && silencedAtMs === null)
    .map((call): Entry => ({ call, step: "today", number: 0 }));
  return entries.length === 0 ? null : { destination: recipient.id, entries, list: date };
}

/**
 * Every message that is due now. What wakes: at once, again each 5 min until it is seen, and to the second person after
 * 10 min (as the policy says). What is told: at once and once more. A pure function: what was put into a message stands in
 * `told` before it is asked again.
 */
export function due(asked: Asked): readonly DueMessage[] {
  return asked.recipients.flatMap((recipient): readonly DueMessage[] => {
    const entries = entriesFor(asked, recipient);
    const list = listFor(asked, recipient);
    const { id } = recipient;
    return [
      ...(entries.length > 0 && isGathered(asked, recipient, entries)
        ? [{ destination: id, entries, list: null }]
        : []),
      ...(list ? [list] : []),
    ];
  });
}
