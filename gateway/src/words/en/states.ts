/** Attention, as people read it. */
export const attentions = {
  wake: "Act now",
  tell: "Act soon",
  today: "Today",
  record: "For the record",
} as const;

/** The word on a drum's water. */
export const verdicts = { use: "use", hold: "hold", unknown: "unknown" } as const;

/** States of ISA-18.2 in plain words. */
export const alarmStates = {
  unacknowledged: "not seen yet",
  acknowledged: "seen",
  "returned-unacknowledged": "ended, not seen yet",
  "latched-unacknowledged": "ended, not seen yet, needs a reset",
  "latched-acknowledged": "ended, seen, needs a reset",
  shelved: "silent",
  "suppressed-by-design": "paused while you work",
  "out-of-service": "switched off",
  normal: "ended",
} as const;

/** What happened to an alarm. */
export const alarmChanges = {
  raised: "raised",
  "raised-gross": "raised, far over its limit",
  "re-raised": "raised again",
  "attention-raised": "more urgent now",
  returned: "ended",
  acknowledged: "seen",
  "seen-undone": "not seen after all",
  reset: "reset",
  shelved: "silenced",
  unshelved: "silence ended",
  "shelf-ended": "no longer silent",
  suppressed: "paused while somebody works",
  unsuppressed: "work finished",
  "out-of-service": "switched off",
  "in-service": "switched on again",
  "medium-changed": "ended: the medium was changed",
  withdrawn: "withdrawn: no longer part of the line",
  judged: "judged again",
  "not-judged": "not judged now",
} as const;

/** Why a point or an alarm is not judged now; `by-time` is how it is judged. */
export const notJudged = {
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
} as const;

/** Reasons of a flag. */
export const flagReasons = {
  old: "nothing new heard",
  "temperature-borrowed": "temperature from a neighbour",
  "temperature-assumed": "temperature unknown, 15 °C assumed",
  "temperature-lost": "temperature probe lost",
  "temperature-disagrees": "temperature contradicts a neighbour",
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
  "outside-compensation-range": "too warm or too cold to correct to 25 °C",
  "at-pure-water-limit": "as pure as water can be",
  "not-a-value": "not a value",
} as const;

/** Floats by their role. */
export const floatRoles = {
  stop: "stop float",
  start: "start float",
  overflow: "overflow float",
  low: "low float",
} as const;

/** What a stage does, by its kind. */
export const stageKinds = {
  sediment: "sediment filter",
  carbon: "carbon",
  membrane: "membrane",
  resin: "resin",
  other: "stage",
} as const;

/** What nodes and the gateway are called in a headline. */
export const names = { node: "Node {id}", gateway: "Gateway" } as const;
