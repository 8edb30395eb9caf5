import { type Computed, compute, shapesOf } from "@drumlin/gateway/water";
import type { Call } from "./calls.ts";

const codes = ["input-not-understood", "out-of-range", "unit-mismatch"];
/** What no person should have to read. */
const jargon = /\bNaN\b|Infinity|undefined|\[object|expected|received|Invalid|e\+?308|5e-324/;

/** Numbers anywhere in an answer. */
function numbersOf(answer: unknown): number[] {
  if (typeof answer === "number") return [answer];
  return typeof answer === "object" && answer !== null ? Object.values(answer).flatMap(numbersOf) : [];
}

function faultOfRefusal(call: Call, code: string, message: string): string | null {
  if (!codes.includes(code)) return `refused with the code ${code}`;
  const ownWords = message.replace(/"[^"]*"/g, "");
  if (jargon.test(ownWords)) return `a refusal that nobody can read: ${message}`;
  const names = [...shapesOf(call.formula.inputs).keys(), "colour"];
  if (!names.some((name) => new RegExp(`\\b${name}\\b`).test(message)))
    return `a refusal that names no input: ${message}`;
  // What may be left out may be missed all the same, by what else was given.
  if (!call.mustRefuse && code === "input-not-understood" && !message.includes(" is missing: "))
    return `good inputs are not understood: ${message}`;
  return null;
}

/** What is wrong with how a formula takes a call, or with what `run` gave for it; null for nothing. */
export function faultOf(
  call: Call,
  run: (id: string, given: Call["given"]) => Computed = compute,
): string | null {
  try {
    const computed = run(call.formula.id, call.given);
    if (!computed.ok) return faultOfRefusal(call, computed.code, computed.message);
    if (call.mustRefuse) return "taken, though it must be refused";
    if (!numbersOf(computed.values).every(Number.isFinite)) return "gave a number that is none";
    const read = call.formula.outputs.safeParse(computed.values);
    return read.success ? null : `gave what it does not announce: ${read.error.message}`;
  } catch (error) {
    return `threw ${error instanceof Error ? error.stack : error}`;
  }
}

/** A call as it can be repeated by hand. */
export function callText({ formula, given }: Call): string {
  const text = JSON.stringify(given, (_key, value) =>
    typeof value === "number" && !Number.isFinite(value) ? String(value) : value,
  );
  return `${formula.id} ${text.length > 600 ? `${text.slice(0, 600)}…` : text}`;
}
