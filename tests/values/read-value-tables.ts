import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { compute, formulas } from "@drumlin/gateway/water";

/**
 * A table of values that somebody else gave. `columns` names the inputs and, last, `expected`; a row may differ from the
 * table in tolerance, kind or source by an object at its end.
 */
interface ValueTable {
  readonly formula: string;
  readonly output: string;
  readonly source: string;
  /**
   * published: read in a text; oracle: another program gave it; memory: from memory of a published text; bound: measured
   * elsewhere, but held only within an error that we set ourselves, so that it does not get worse.
   */
  readonly kind: "published" | "oracle" | "memory" | "bound";
  /** Absolute, in the output's unit; or relative. The table's own rounding, or the spread of published sets. */
  readonly tolerance?: number;
  readonly relativeTolerance?: number;
  readonly why: string;
  readonly fixed?: Readonly<Record<string, unknown>>;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly unknown[])[];
}

interface RowOverride {
  readonly tolerance?: number;
  readonly relativeTolerance?: number;
  readonly source?: string;
  readonly why?: string;
}

/** One value from outside, and what we give for it. */
export interface CheckedValue {
  readonly file: string;
  readonly formula: string;
  readonly source: string;
  readonly kind: ValueTable["kind"];
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly output: string;
  readonly expected: unknown;
  readonly got: unknown;
  /** Error over tolerance: at most 1 is good. Infinite where words differ or nothing was computed. */
  readonly share: number;
  readonly problem: string | null;
}

const folder = import.meta.dirname;

function pick(value: unknown, path: string): unknown {
  return path
    .split(".")
    .reduce<unknown>((inner, key) => (inner as Record<string, unknown> | undefined)?.[key], value);
}

function shareOf(expected: unknown, got: unknown, table: ValueTable, override: RowOverride): number {
  // A list is one value: as wrong as the worst of its items.
  if (Array.isArray(expected) && Array.isArray(got) && expected.length === got.length)
    return Math.max(...expected.map((item, place) => shareOf(item, got[place], table, override)));
  if (typeof expected !== "number")
    return JSON.stringify(expected) === JSON.stringify(got) ? 0 : Number.POSITIVE_INFINITY;
  if (typeof got !== "number" || !Number.isFinite(got)) return Number.POSITIVE_INFINITY;
  // Also where nothing is allowed: 0 over 0 is no share.
  if (got === expected) return 0;
  const relative = override.relativeTolerance ?? table.relativeTolerance;
  const allowed =
    override.tolerance ??
    (override.relativeTolerance === undefined ? table.tolerance : undefined) ??
    Math.abs(expected) * (relative ?? 0);
  // A billionth on top: a value printed at the very edge of its rounding is still the printed value.
  return Math.abs(got - expected) / (allowed * (1 + 1e-9) + Number.EPSILON * Math.abs(expected));
}

function checkRow(file: string, table: ValueTable, row: readonly unknown[]): CheckedValue {
  const last = row.at(-1);
  const extra = row.length > table.columns.length && typeof last === "object" && last !== null;
  const override: RowOverride = extra ? (last as RowOverride) : {};
  const named = Object.fromEntries(table.columns.map((name, place) => [name, row[place]]));
  const { expected, ...varying } = named;
  const inputs = { ...table.fixed, ...varying };
  const computed = compute(table.formula, inputs);
  const got = computed.ok ? pick(computed.values, table.output) : undefined;
  return {
    file,
    formula: table.formula,
    source: override.source ?? table.source,
    kind: table.kind,
    inputs,
    output: table.output,
    expected,
    got,
    share: shareOf(expected, got, table, override),
    problem: computed.ok ? null : `${computed.code}: ${computed.message}`,
  };
}

/** Every value of every table in this folder, checked. Throws when a table is not one. */
export function checkedValues(): CheckedValue[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith(".json"))
    .sort()
    .flatMap((file) => {
      const tables = JSON.parse(readFileSync(join(folder, file), "utf8")) as ValueTable[];
      return tables.flatMap((table) => {
        if (!table.source || !table.why || !table.columns.includes("expected"))
          throw new Error(`${file}: a table needs source, why and a column "expected".`);
        return table.rows.map((row) => checkRow(file, table, row));
      });
    });
}

/**
 * Formulas that no value from outside holds: each needs one that was published, that another program gave, or that is
 * owned to be from memory. A bound of our own does not count.
 */
export function formulasWithoutRow(values: readonly CheckedValue[]): string[] {
  const held = new Set(values.filter(({ kind }) => kind !== "bound").map(({ formula }) => formula));
  return formulas.map(({ id }) => id).filter((id) => !held.has(id));
}
