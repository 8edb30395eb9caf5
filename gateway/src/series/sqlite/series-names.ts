import type { NumberedNames } from "./store-writer.ts";

/** Names of series and their numbers; a new name gets the next one, and is written with the next batch. */
export class SeriesNames {
  private readonly numbers: Map<string, number>;
  private next: number;
  private fresh: (readonly [number: number, name: string])[] = [];

  constructor(known: NumberedNames) {
    this.numbers = new Map(known.map(([number, name]) => [name, number]));
    this.next = known.reduce((most, [number]) => Math.max(most, number + 1), 0);
  }

  find(name: string): number | null {
    return this.numbers.get(name) ?? null;
  }

  numberOf(name: string): number {
    const known = this.numbers.get(name);
    if (known !== undefined) return known;
    const number = this.next;
    this.next += 1;
    this.numbers.set(name, number);
    this.fresh.push([number, name]);
    return number;
  }

  /** Names that the file does not have yet. */
  unwritten(): NumberedNames {
    return this.fresh.slice();
  }

  written(names: NumberedNames): void {
    const done = new Set(names.map(([number]) => number));
    this.fresh = this.fresh.filter(([number]) => !done.has(number));
  }

  sorted(): string[] {
    return [...this.numbers.keys()].sort();
  }
}
