/** A value older than this is shown as missing, ms: the gateway's own rule for what it still gives out. */
export const staleMs = 100_000;
