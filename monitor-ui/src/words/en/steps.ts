/** The first steps, until a reading is here. */
export const steps = {
  title: "The line is drawn. Nothing has been heard yet.",
  about: "Three steps, about five minutes. This page changes by itself when the first reading arrives.",
  describe: "Describe the line",
  described: "Done: {parts}.",
  secrets: "Give each node its secret",
  secretsWhat: "A node signs in with its name and a secret that is shown once.",
  askOperator: "Ask an operator, or make the first account.",
  reading: "Send a first reading",
  readingWhat:
    "From any machine on this network, with the secret from step 2. The supply should show about 517 µS/cm: until a temperature comes, 15 °C is assumed.",
  nothingHappens: "Nothing happens?",
  nodesShow: "shows what was refused, and why. A sketch for a microcontroller is in the README.",
  waitingFor: "Waiting for",
  notHeardYet: "not heard yet",
  makeSecret: "Make a secret for {node}",
  shownOnce: "shown once. Copy it now.",
} as const;
