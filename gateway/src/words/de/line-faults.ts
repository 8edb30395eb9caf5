import type { Pairs } from "../form/say-by.ts";
import { advice } from "./line-faults/advice.ts";
import { contradictions } from "./line-faults/contradictions.ts";
import { keysAndValues } from "./line-faults/keys-and-values.ts";
import { unreadable } from "./line-faults/unreadable.ts";

/**
 * German of what the line file's reader finds, beside the English that it is known by: faults, warnings, and what to
 * write instead. What stands in braces is taken over as it is. The first pair that fits counts.
 */
export const lineFaults: Pairs = [
  ...unreadable,
  ...keysAndValues,
  ...contradictions,
  ...advice,
  // Last: they would take what stands above.
  ['Write "{what}".', "„{what}“ schreiben."],
  ["Write {what}.", "{what} schreiben."],
  ["{where}: {rule}.", "{where}: {rule}."],
];
