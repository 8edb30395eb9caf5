import { OutOfRange, UnitError } from "../../quantities/index.ts";
import { InputRefused } from "./refused.ts";

/** A refusal of another room with the inputs that it is about before it; any other error as it is. */
export function named(inputs: string, error: unknown): unknown {
  if (!(error instanceof OutOfRange || error instanceof UnitError)) return error;
  const message = error.message.startsWith(`${inputs} `) ? error.message : `${inputs}: ${error.message}`;
  return new InputRefused(error instanceof OutOfRange ? "out-of-range" : "unit-mismatch", message);
}

/**
 * Runs a part of a formula that weighs inputs against each other, or takes them under a name of its own: what it refuses
 * is said to be about these inputs ("first, second: difference of the two salinities is 0 …").
 */
export function about<Result>(inputs: string, part: () => Result): Result {
  try {
    return part();
  } catch (error) {
    throw named(inputs, error);
  }
}

/** Lists of which each value belongs to the one at its place in the other. Throws InputRefused for unlike lengths. */
export function requireSameLength(lists: Readonly<Record<string, readonly unknown[]>>): void {
  const [[firstName, first] = ["", []], ...others] = Object.entries(lists);
  for (const [name, list] of others)
    if (list.length !== first.length)
      throw new InputRefused(
        "out-of-range",
        `${name} has ${list.length} and ${firstName} ${first.length} values: each needs one of the other.`,
      );
}

/** Limits of which none may be greater than the next; what was left out binds nothing. Throws InputRefused. */
export function requireRising(limits: Readonly<Record<string, number | undefined>>): void {
  const given = Object.entries(limits).filter((limit): limit is [string, number] => limit[1] !== undefined);
  for (const [place, [name, value]] of given.entries()) {
    const next = given[place + 1];
    if (next && value > next[1])
      throw new InputRefused(
        "out-of-range",
        `${name} is ${value} and ${next[0]} ${next[1]}: ${name} must not be more than ${next[0]}.`,
      );
  }
}

/** A list of which each value must be more than the one before it. Throws InputRefused. */
export function requireRisingList(name: string, values: readonly number[]): void {
  for (const [place, value] of values.entries()) {
    const before = values[place - 1];
    if (before !== undefined && !(value > before))
      throw new InputRefused(
        "out-of-range",
        `${name}, item ${place + 1} is ${value} after ${before}: each must be more than the one before.`,
      );
  }
}
