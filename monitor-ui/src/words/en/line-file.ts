/** The page of the line file. */
export const lineFile = {
  title: "The line file",
  needed: "needed",
  unit: "unit: {unit}",
  leftOut: "if left out: {otherwise}",
  intro:
    "Every key that the file can hold. {star} stands for a name that you choose; a channel is written {channel}.",
  channel: "node/channel",
  keys: { one: "{count} key", other: "{count} keys" },
  find: "Find",
  findHint: "Try float, limit, litres.",
  theKeys: "the keys",
  noKey: "No key matches “{word}”.",
} as const;
