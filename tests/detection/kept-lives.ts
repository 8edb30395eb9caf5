import { appendFileSync, existsSync, readFileSync } from "node:fs";
import type { Job, JobDone } from "./work.ts";

/** A line of the file: one job that is done, with the code that it was done with. */
type Kept = JobDone & { readonly code: string };

/** Two jobs with one name come to the same. */
export const nameOf = ({ kit, seed, days, periodS, only }: Job): string =>
  JSON.stringify([kit, seed, days, periodS, only]);

/** Jobs that are done, a line each in `FILE.lives`: what was stopped goes on, and parts share one file. */
export function keptLives(file: string, code: string) {
  /** Last lines may be cut, where the machine went down. */
  function read(): readonly Kept[] {
    if (!existsSync(file)) return [];
    return readFileSync(file, "utf8")
      .split("\n")
      .flatMap((line) => {
        try {
          return [JSON.parse(line) as Kept];
        } catch {
          return [];
        }
      });
  }
  return {
    /** Those of this code, one of each name. */
    done(): readonly JobDone[] {
      const own = read().filter((kept) => kept.code === code);
      return [...new Map(own.map((kept) => [nameOf(kept.job), kept])).values()];
    },
    /** How many are of other code. */
    foreign: (): number => read().filter((kept) => kept.code !== code).length,
    add(done: JobDone): void {
      appendFileSync(file, `${JSON.stringify({ code, ...done })}\n`);
    },
  };
}
