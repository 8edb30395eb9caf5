import { readSentence, type Said, say } from "../words/index.ts";

/**
 * Why a drum's water is not to be used, or what was noticed in a fill: a code with what stands in its sentence.
 * `as-written` is one that an older record has by its words alone.
 */
export type Reason = Said | { readonly code: "as-written"; readonly values: { readonly text: string } };

/** The sentence of a reason, as it is written down and shown. */
export const reasonText = (reason: Reason): string =>
  reason.code === "as-written" ? reason.values.text : say(reason.code, reason.values);

/** The reason of a sentence that was written down. */
export const readReason = (text: string): Reason =>
  readSentence(text) ?? { code: "as-written", values: { text } };

/** What a reason is about, whatever figures are in it: two of the same matter are one, with the figure of now. */
export const matterOf = ({ code, values }: Reason): string =>
  [code, ...Object.values(values).filter((value) => typeof value === "string")].join(" ");

/** What a batch says of itself: it ends by itself, and no person answers for it. */
const ofBatch: ReadonlySet<Reason["code"]> = new Set([
  "batch-not-ready",
  "batch-heel",
  "batch-off",
  "salinity-wanted",
  "no-drum-probe",
  "drum-probe-silent",
  "salinity-moves",
  "just-added",
]);

/** Whether a reason stands until a person answers for the water. */
export const isLatched = ({ code }: Reason): boolean => !ofBatch.has(code);
