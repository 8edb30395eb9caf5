import { OutOfRange, UnitError } from "../../quantities/index.ts";
import { InputRefused } from "./refused.ts";

/**
 * Runs a part of a formula that weighs inputs against each other, or takes them under a name of its own: what it refuses
 * is said to be about these inputs ("first, second: difference of the two salinities is 0 …").
 */
export function about<Result>(inputs: string, part: () => Result): Result {
  try {
    return part();
  } catch (error) {
    if (error instanceof OutOfRange) throw new InputRefused("out-of-range", `${inputs}: ${error.message}`);
    if (error instanceof UnitError) throw new InputRefused("unit-mismatch", `${inputs}: ${error.message}`);
    throw error;
  }
}

/** Lists of which each value belongs to the one at its place in the other. Throws InputRefused for unlike lengths. */
export function requireSameLength(lists: Readonly<Record<string, readonly unknown[]>>): void {
  const [[firstName, first] = ["", []], ...others] = Object.entries(lists);
  for (const [name, list] of others)
    if (list.length !== first.length)
      throw new InputRefused(
        "out-of-range",
        `${name} has ${list.length} values and ${firstName} ${first.length}; each needs the other.`,
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
