import { type LineResult, readLine } from "../line/index.ts";
import { limitRules } from "./describe-conditions.ts";

/** Reads a line file as the gateway takes it: its limits by the rows of conditions. Never throws. */
export const readLineFile = (text: string): LineResult => readLine(text, undefined, { limits: limitRules });
