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
  "no-flow": "not judged: no water running",
  settling: "not judged: first water",
  "no-valid-reading": "not judged: no reading",
  "flow-unknown": "not judged: can't tell whether water is running",
  "water-runs": "not judged: water is running",
  "no-limit": "",
  "by-time": "judged by time alone: no flow signal here",
  "just-started": "not judged: just started",
  "never-heard": "not judged: never heard",
  "not-ready": "not judged: the batch is not ready",
} satisfies Record<NotJudgedWord, string>;

/** Why a point or an alarm is not judged now, in plain words. */
export function notJudgedWords(because: NotJudgedWord | null): string {
  return because === null ? "" : (textOf(notJudged, because) ?? `not judged: ${because}`);
}

const states = {
  unacknowledged: "not seen yet",
  acknowledged: "seen",
  "returned-unacknowledged": "ended, not seen yet",
  "latched-unacknowledged": "ended, not seen yet, needs a reset",
  "latched-acknowledged": "ended, seen, needs a reset",
  shelved: "silent",
  "suppressed-by-design": "paused while you work",
  "out-of-service": "switched off",
  normal: "ended",
} satisfies Record<AlarmStateWord, string>;

/** An alarm's state in plain words. */
export function stateWords(state: AlarmStateWord): string {
  return textOf(states, state) ?? state;
}

const flagReasons = {
  old: "nothing new heard",
  "temperature-borrowed": "temperature from a neighbour",
  "temperature-assumed": "temperature unknown, 15 °C assumed",
  "temperature-lost": "temperature probe lost",
  "arrival-time": "timed on arrival",
  "over-range": "above the probe's range",
  "under-range": "below the probe's range",
  "open-circuit": "probe disconnected",
  "short-circuit": "cable shorted",
  "power-on-value": "thermometer has not measured yet (85 °C)",
  "sensor-lost": "thermometer lost (−127 °C)",
  "below-resolution": "below what the probe can resolve",
  unproven: "probe not proved lately",
  spike: "sudden jump, waiting for the next reading",
  "unit-mismatch": "wrong unit",
  "settling-after-boot": "node just started",
  "outside-compensation-range": "too warm or too cold to be brought to 25 °C",
  "at-pure-water-limit": "as pure as water can be",
  "not-a-value": "not a value",
} satisfies Record<FlagReasonWord, string>;

/** Reasons of a flag, in plain words. */
export function reasonWords(reasons: readonly FlagReasonWord[]): string {
  return reasons.map((reason) => textOf(flagReasons, reason) ?? reason).join(", ");
}

const changes = {
  raised: "raised",
  "raised-gross": "raised, far over its limit",
  "re-raised": "raised again",
  "attention-raised": "more urgent now",
  returned: "ended",
  acknowledged: "seen",
  reset: "reset",
  shelved: "silenced",
  unshelved: "silence ended",
  "shelf-ended": "no longer silent",
  suppressed: "paused while somebody works",
  unsuppressed: "work is over",
  "out-of-service": "switched off",
  "in-service": "switched on again",
  "medium-changed": "ended: the medium was changed",
  withdrawn: "withdrawn: the line no longer has it",
  judged: "judged again",
  "not-judged": "not judged now",
} satisfies Record<AlarmChangeWord, string>;

/** What happened to an alarm, in plain words. */
export function changeWords(why: AlarmChangeWord): string {
  return textOf(changes, why) ?? why;
}

const attentions = { wake: "Act now", tell: "Act soon", today: "Today", record: "For the record" } as const;

/** How much an alarm asks of a person. */
export function attentionWords(attention: keyof typeof attentions): string {
  return attentions[attention];
}
