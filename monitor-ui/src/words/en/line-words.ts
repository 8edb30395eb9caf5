/** The drawing of the line, and what to check when nothing is heard. */
export const lineWords = {
  drawing: "The line, from supply to drums",
  stillNoAnswer: "Still no answer from the gateway. Is its machine on?",
  whatToCheck: "What to check",
  checkFirst: "Is the gateway's machine on? Is this device on the house's network?",
  checkFloats: "The floats work without the gateway. Nobody is watching them now: go and look.",
  removes: "removes {percent} %",
  letsThrough: "lets salts through",
  cameBack: "on hold: water came back",
} as const;
