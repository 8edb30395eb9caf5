/** Fills laid over each other. */
export const compare = {
  title: "Compare fills",
  drum: "Drum",
  what: "What is drawn",
  which: "Which fills",
  chosen: { one: "{count} fill", other: "{count} fills" },
  atMost: "Four at most: take one away first.",
  fromStart: "each from its own start",
  after: "{duration} after the start",
  none: "No fill of this drum is known yet.",
  nothing: "Nothing that is measured here changes with a fill.",
  choose: "Choose a fill.",
  fill: "Fill",
  lasted: "Lasted",
  cameIn: "Came in",
  howEnded: "How it ended",
  running: "still filling",
} as const;
