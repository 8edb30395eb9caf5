/** The past being worked out anew. */
export const derivation = {
  title: "Recomputing the past",
  since: "Since {from}: {percent} % done. Nothing changes until all of it is done.",
  waits: "Waiting its turn.",
  failed: "It failed and will be tried again: {why}",
} as const;
