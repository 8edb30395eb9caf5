/** Nodes, what they say and what was refused. */
export const nodeWords = {
  asFarAsKnown: "last message {time}, as far as this page knows",
  silentSince: "silent since {time}",
  lastMessage: "last message {duration} ago",
  messages: { one: "{count} message", other: "{count} messages" },
  missing: "{count} missing",
  repeated: "{count} repeated",
  firmware: "firmware {version}",
  runningSince: "running since {time}",
  refused: "{count} refused: what and why",
  refusedNotLoaded: "Couldn't load what was refused.",
  lastDay: "The last 24 h:",
  heardAll: "heard throughout",
  notHeardFromTo: "not heard {from} to {to}",
  notHeardSince: "not heard since {from}",
  silences: "{count} silences, the last",
  knownSince: "first heard {time}",
  hoursAgo: "{count} h ago",
  theDay: "the last day",
  /** What has no place on the drawing. */
  others: { waste: "water to the drain", pump: "pump", button: "button", room: "room temperature" },
  /** A contact as what it is of. */
  contacts: {
    float: { on: "wet", off: "dry" },
    floor: { on: "wet", off: "dry" },
    inlet: { on: "open", off: "shut" },
    pump: { on: "running", off: "off" },
    button: { on: "pressed", off: "not pressed" },
  },
  /** Which one is it? */
  blink: "Make it blink",
  asking: "Asking…",
  blinks: "{node} will blink for about 10 s.",
  noPlace: "no place yet",
  placeIt: "Place it",
} as const;
