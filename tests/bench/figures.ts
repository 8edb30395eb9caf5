import { writeFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";

/** One figure of a run: its name stays the same from run to run. */
interface Figure {
  readonly name: string;
  readonly value: number;
  /** UCUM where it has one: `1/s`, `ms`, `MB`. */
  readonly unit: string;
}

const figures: Figure[] = [];

const shown = (value: number): string =>
  Math.abs(value) >= 100 ? Math.round(value).toString() : value.toPrecision(3);

/** Notes a figure and prints it, with what it is of. */
export function figure(name: string, value: number, unit: string, about: string): void {
  figures.push({ name, value, unit });
  console.log(`${name}: ${shown(value)} ${unit === "1" ? "" : unit} (${about})`.replace("  ", " "));
}

/** Writes every figure of this run, with what the machine was doing, as JSON. */
export function writeFigures(file: string): void {
  const machine = { node: process.version, cpus: cpus().length, load: loadavg() };
  writeFileSync(file, `${JSON.stringify({ at: new Date().toISOString(), machine, figures }, null, 2)}\n`);
}
