/** The past being worked out anew. */
export const derivation = {
  title: "Working out the past anew",
  since: "Since {from}: {percent} % done. Nothing changes until all of it is done.",
  waits: "It waits for its turn.",
  failed: "It failed, and is tried again: {why}",
} as const;
