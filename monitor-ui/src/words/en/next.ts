/** What the line still needs until its first number. */
export const next = {
  nothingDrawn: "Nothing is drawn yet",
  choosePicture: "Choose the picture that is most like your line, and name its parts.",
  accountFirst:
    "First make the account. Then choose the picture that is most like your line, and name its parts.",
  draw: "Draw the line",
  drawn: "The line is drawn",
  heard: {
    one: "{count} channel was heard. Tap where it hangs.",
    other: "{count} channels were heard. Tap where each hangs.",
  },
  place: "Place the channels",
  nowSecret: "Now give a node its secret; its channels appear by themselves.",
  addNode: "Add a node",
  guards: "What guards it",
  unseen: "What could pass unseen",
  guardsBeside: "besides its stop float",
} as const;
