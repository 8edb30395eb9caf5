import type {
  AlarmChangeWord,
  AlarmStateWord,
  FlagReasonWord,
  NotJudgedWord,
} from "@drumlin/gateway/contract";

// Each word of the gateway has its text here, or the build fails. A gateway that is newer than an open page may say one
// that the page does not know: it is shown as it came.
function textOf(texts: Readonly<Record<string, string>>, word: string): string | undefined {
  return Object.hasOwn(texts, word) ? texts[word] : undefined;
}

const notJudged = {
  "no-flow": "not judged: no water runs",
  settling: "first water, not judged yet",
  "no-valid-reading": "not judged: no reading",
  "flow-unknown": "not judged: it is not known whether water runs",
  "no-limit": "",
  "by-time": "judged by time alone: nothing here tells whether water runs",
  "just-started": "not judged yet: it has just started",
  "never-heard": "not judged: it was never heard",
} satisfies Record<NotJudgedWord, string>;

/** Why a point or an alarm is not judged now, in plain words. */
export function notJudgedWords(because: NotJudgedWord | null): string {
  return because === null ? "" : (textOf(notJudged, because) ?? `not judged: ${because}`);
}

const states = {
  unacknowledged: "new",
  acknowledged: "seen",
  "returned-unacknowledged": "over, not yet seen",
  "latched-unacknowledged": "over, held until reset",
  "latched-acknowledged": "seen, held until reset",
  shelved: "silent",
  "suppressed-by-design": "silent while you work",
  "out-of-service": "out of service",
  normal: "over",
} satisfies Record<AlarmStateWord, string>;

/** An alarm's state in plain words. */
export function stateWords(state: AlarmStateWord): string {
  return textOf(states, state) ?? state;
}

const flagReasons = {
  old: "nothing new",
  "temperature-borrowed": "temperature of a neighbour",
  "temperature-assumed": "15 °C assumed",
  "temperature-lost": "its temperature is lost",
  "arrival-time": "time of arrival",
  "over-range": "over the probe's range",
  "under-range": "under the probe's range",
  "open-circuit": "probe open",
  "below-resolution": "below the probe's step",
  unproven: "probe unproven",
  spike: "a leap, not confirmed yet",
  "unit-mismatch": "wrong unit",
  "settling-after-boot": "node has just started",
  "outside-compensation-range": "too warm or too cold to be brought to 25 °C",
  "at-pure-water-limit": "as pure as water can be",
  "not-a-value": "not a value",
} satisfies Record<FlagReasonWord, string>;

/** Reasons of a flag, in plain words. */
export function reasonWords(reasons: readonly FlagReasonWord[]): string {
  return reasons.map((reason) => textOf(flagReasons, reason) ?? reason).join(", ");
}

const changes = {
  raised: "new",
  "raised-gross": "new, far over its limit",
  "re-raised": "new again",
  "attention-raised": "more urgent now",
  returned: "over",
  acknowledged: "seen",
  reset: "reset",
  shelved: "silenced",
  unshelved: "brought back",
  "shelf-ended": "no longer silent",
  suppressed: "silent while somebody works",
  unsuppressed: "work is over",
  "out-of-service": "taken out of service",
  "in-service": "in service again",
  "medium-changed": "over: the medium was changed",
  withdrawn: "withdrawn: the line no longer has it",
  judged: "judged again",
  "not-judged": "not judged now",
} satisfies Record<AlarmChangeWord, string>;

/** What happened to an alarm, in plain words. */
export function changeWords(why: AlarmChangeWord): string {
  return textOf(changes, why) ?? why;
}
