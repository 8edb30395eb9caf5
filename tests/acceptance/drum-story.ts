import type { Fill } from "@drumlin/gateway/fills";
import { createHouse, type House, type Kit } from "./drum-house.ts";
import { beginMs } from "./line-bench.ts";

/** A house lived through, and what was told of its drum. */
export function story(kit: Kit, house: House = {}, on?: Parameters<typeof createHouse>[2]) {
  const lived = createHouse(kit, house, on);
  const { bench } = lived;
  return {
    ...lived,
    /** Emptied to its heel by a person, who says so. */
    dumped(atS: number): void {
      bench.act({ type: "release", drum: "mix", reason: "dumped" }, atS);
    },
    act: (type: string, atS: number, more: object = {}) => bench.act({ type, drum: "mix", ...more }, atS),
    /** Alarms that called somebody, each once, by name. */
    calls: () =>
      [
        ...new Set(
          bench.alarms().flatMap(({ annunciated, alarm }) => (annunciated ? [alarm.condition] : [])),
        ),
      ].sort(),
    /** When a condition first called, s; null: never. */
    calledAtS(condition: string): number | null {
      const found = bench
        .alarms()
        .find(({ annunciated, alarm }) => annunciated && alarm.condition === condition);
      return found ? (found.atMs - beginMs) / 1000 : null;
    },
    /** When anything first called, silent nodes among it, s; null: never. */
    toldAtS(): number | null {
      const found = bench.outcomes.find((one) => one.kind === "alarm" && one.annunciated);
      return found?.kind === "alarm" ? (found.atMs - beginMs) / 1000 : null;
    },
    attentionOf: (condition: string) =>
      bench.alarms().findLast(({ alarm }) => alarm.condition === condition)?.alarm.attention ?? null,
    standing: () =>
      bench
        .standing()
        .map(({ condition }) => condition)
        .sort(),
    fills: (): readonly Fill[] =>
      bench.outcomes.filter((one): one is Fill => one.kind === "fill" && one.endedAtMs !== null),
    litres: () =>
      bench.outcomes
        .filter((one): one is Fill => one.kind === "fill" && one.endedAtMs !== null)
        .reduce((sum, { litres }) => sum + (litres ?? 0), 0),
    word(): string | null {
      const last = bench.outcomes.findLast((one) => one.kind === "drum-water");
      return last?.kind === "drum-water" ? last.verdict : null;
    },
    /** Every word that was said, in a row. */
    words: () => bench.outcomes.flatMap((one) => (one.kind === "drum-water" ? [one.verdict] : [])),
  };
}

/** Automatic days: the drum is drawn down to its release every `everyS`, and fills by itself. */
export const drawEvery =
  (everyS: number, lPerMin: number, forS: number) =>
  (atS: number): number =>
    atS % everyS < forS ? lPerMin : 0;
