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
  noPlace: "no place yet",
  placeIt: "Place it",
} as const;
