import { execFileSync } from "node:child_process";
import type { CalmRow } from "./calm-row.ts";
import {
  calmDeviationsOf,
  type Deviation,
  deviationsOf,
  otherDeviationsOf,
  quietDeviationsOf,
} from "./expected.ts";
import type { FaultRow } from "./fault-row.ts";
import type { QuietRow } from "./live-quietly.ts";
import type { OtherRow } from "./other-row.ts";

/** Quiet lives of one kit, and how many they are. */
export interface QuietLives {
  readonly seeds: number;
  readonly row: QuietRow;
}

interface Made {
  /** ISO date, and the short name of the commit; null: not known. */
  readonly date: string;
  readonly commit: string | null;
  /** Mark of the code that lives depend on. */
  readonly code: string;
  readonly periodS: number;
}

/** How a run came out, as `--json` writes it; `worse` says in what it is worse than `expected.ts` wants. */
export interface Results {
  readonly made: Made;
  readonly faults: readonly (Omit<
    FaultRow,
    "floodsUntold" | "hidden" | "falselyWoken" | "useWhenFalse" | "overUnheld" | "conditions"
  > & { readonly worse: readonly string[] })[];
  /** Once a kit: what comes before the fault is the same for each. */
  readonly calm: readonly (CalmRow & { readonly worse: readonly string[] })[];
  /** Once a kit of two drums: the one that nothing befell. */
  readonly others: readonly (OtherRow & { readonly worse: readonly string[] })[];
  readonly quiet: readonly (Omit<QuietRow, "conditions"> & {
    readonly seeds: number;
    readonly worse: readonly string[];
  })[];
}

function commitNow(): string | null {
  try {
    return execFileSync("git", ["rev-parse", "--short=7", "HEAD"], { encoding: "utf8" }).trim();
  } catch {
    return null;
  }
}

/** When and of what code a run is that ends now. */
export const madeNow = (code: string, periodS: number): Made => ({
  date: new Date().toISOString().slice(0, 10),
  commit: commitNow(),
  code,
  periodS,
});

const whats = (deviations: readonly Deviation[]) => deviations.map(({ what }) => what);

/** The rows of a run. */
interface Found {
  readonly faults: readonly FaultRow[];
  readonly calm: readonly CalmRow[];
  readonly others: readonly OtherRow[];
  readonly quiet: readonly QuietLives[];
}

/** What is written of these rows. */
export function resultsOf(made: Made, { faults, calm, others, quiet }: Found): Results {
  return {
    made,
    faults: faults.map((row) => ({
      kit: row.kit,
      fault: row.fault,
      seeds: row.seeds,
      seen: row.seen,
      told: row.told,
      beforeBrim: row.beforeBrim,
      litresOnFloor: row.litresOnFloor,
      floods: row.floods,
      minutesToTell: row.minutesToTell,
      minutesToTellP90: row.minutesToTellP90,
      worse: whats(deviationsOf(row)),
    })),
    calm: calm.map((row) => ({ ...row, worse: whats(calmDeviationsOf(row)) })),
    others: others.map((row) => ({ ...row, worse: whats(otherDeviationsOf(row)) })),
    quiet: quiet.map(({ seeds, row }) => {
      const { conditions: _, ...told } = row;
      return { ...told, seeds, worse: whats(quietDeviationsOf(row, made.periodS)) };
    }),
  };
}
