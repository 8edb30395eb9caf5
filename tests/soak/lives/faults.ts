import type { Life } from "../../acceptance/outside-life.ts";
import { at, usualS } from "../../acceptance/outside-plans.ts";
import type { Draw } from "./draw.ts";
import type { Happening } from "./happenings.ts";

type Records = Parameters<Life["press"]["alter"]>[0];
type Change = (records: Records, isNow: boolean, sinceS: number) => Records;
/** What a fault lies in. */
export type FaultOf = "probe" | "meter" | "level" | "float" | "valve" | "supply";

/** One part of the house that does not do, or say, what it should. */
export interface Fault extends Happening {
  readonly of: FaultOf;
}

/** A channel that says this while the fault lasts; null: nothing. */
const says =
  (name: string, change: (value: unknown, sinceS: number) => unknown): Change =>
  (records, isNow, sinceS) =>
    records.flatMap((record) => {
      if (!isNow || !String(record.n).startsWith(name)) return [record];
      const field = "vb" in record ? "vb" : "v";
      const value = change(record[field], sinceS);
      return value === null ? [] : [{ ...record, [field]: value }];
    });

/** A channel that goes on saying what it said when the fault began. */
function standing(name: string): Change {
  const held = new Map<unknown, unknown>();
  return (records, isNow) => {
    if (!isNow) held.clear();
    return records.map((record) => {
      if (!isNow || !String(record.n).startsWith(name)) return record;
      if (!held.has(record.n)) held.set(record.n, record.v);
      return { ...record, v: held.get(record.n) };
    });
  };
}

/** Faults of what a node says. */
const said: readonly (readonly [FaultOf, node: "press" | "tubs", says: string, () => Change])[] = [
  ["meter", "press", "the meter says 0", () => says("flow-1", () => 0)],
  ["meter", "press", "the meter says nothing", () => says("flow-1", () => null)],
  ["meter", "press", "the meter says half", () => says("flow-1", (value) => (value as number) / 2)],
  ["probe", "press", "the probe stands still", () => standing("ec-2")],
  ["probe", "press", "the probe says 0", () => says("ec-2", () => 0)],
  ["probe", "press", "the probe says nothing", () => says("ec-2", () => null)],
  ["probe", "press", "the thermometer says -127", () => says("t-2", () => -127)],
  ["level", "tubs", "the level stands still", () => standing("level")],
  ["level", "tubs", "the level says nothing", () => says("level", () => null)],
  [
    "level",
    "tubs",
    "the level sinks 6 L/h",
    () => says("level", (value, sinceS) => (value as number) - (0.006 * sinceS) / 3600),
  ],
  ["float", "tubs", "the stop float says dry, its valve hears it right", () => says("stop", () => false)],
  ["float", "tubs", "the stop float says wet, its valve hears it right", () => says("stop", () => true)],
];

/** Faults of the house: how it is, and how it was. */
const done: readonly (readonly [FaultOf, says: string, (life: Life, is: boolean) => unknown])[] = [
  ["supply", "the supply is shut", ({ house }, is) => Object.assign(house, { isSupplyShut: is })],
  ["supply", "the inlet is shut by hand", ({ tub }, is) => Object.assign(tub, { isShut: is })],
  [
    "float",
    "the stop float hangs dry",
    ({ tub }, is) => Object.assign(tub, { contact: is ? () => false : (wet: boolean) => wet }),
  ],
  [
    "float",
    "the stop float hangs wet",
    ({ tub }, is) => Object.assign(tub, { contact: is ? () => true : (wet: boolean) => wet }),
  ],
  ["valve", "the valve leaks 0.8 L/min", ({ tub }, is) => Object.assign(tub, { leak: is ? 0.8 : 0 })],
];

/** A fault for a while, of a part that the house has. */
export function fault({ whole, of }: Draw, parts: ReadonlySet<FaultOf>): Fault {
  const [fromS, forS] = [whole(0, 9000), of([600, 3000, 20_000])];
  const spoken = said.filter(([part]) => parts.has(part));
  const chosen = of([...spoken, ...done]);
  const title = typeof chosen[2] === "string" ? chosen[2] : chosen[1];
  const words = `${fromS} s: ${title}, for ${forS} s`;
  if (chosen.length === 3) {
    const [part, , make] = chosen;
    return {
      of: part,
      says: words,
      events: [at(fromS, (life) => make(life, true)), at(fromS + forS, (life) => make(life, false))],
    };
  }
  const [part, node, , make] = chosen;
  return {
    of: part,
    says: words,
    events: [
      at(fromS, (life) => {
        const change = make();
        life[node].alter = (records, atS) => {
          const sinceS = atS - usualS - fromS;
          return change(records, sinceS >= 0 && sinceS < forS, sinceS);
        };
      }),
    ],
  };
}
