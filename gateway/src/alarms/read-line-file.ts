import { type LineResult, readLine } from "../line/index.ts";
import { limitRules } from "./describe-conditions.ts";

/** The last text that was read, with what came of it: at a start the same is read several times. */
let last: { readonly text: string; readonly result: LineResult } | null = null;

/** Reads a line file as the gateway takes it: its limits by the rows of conditions. Never throws. */
export function readLineFile(text: string): LineResult {
  if (last?.text !== text) last = { text, result: readLine(text, undefined, { limits: limitRules }) };
  return last.result;
}
