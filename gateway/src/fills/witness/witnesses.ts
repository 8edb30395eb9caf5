import type { Line } from "../../line/index.ts";
import type { Measurement } from "../../measurements/index.ts";
import { type DrumWays, drumMeterKey, meterKey } from "./ways.ts";
import type { KeptWitnesses } from "./witness-rows.ts";

/** What the stage works on; `touched`: drums whose witnesses said something in this step. */
export interface Witnesses extends KeptWitnesses {
  line: Line | null;
  ways: ReadonlyMap<string, DrumWays>;
  /** Drums behind each meter. */
  behind: ReadonlyMap<string, readonly string[]>;
  readonly touched: Set<string>;
  readonly touchedMeters: Set<string>;
}

/** Key of the meter that measured a flow. */
export const keyOfMeter = ({ kind, id }: Measurement["subject"]) =>
  kind === "drum" ? drumMeterKey(id) : meterKey(id);

/** A drum, and those that share its meters, have something new to say. */
export function touch(all: Witnesses, drum: string): void {
  if (!all.ways.has(drum)) return;
  all.touched.add(drum);
  for (const { sharedWith } of all.ways.get(drum)?.meters ?? [])
    for (const other of sharedWith) all.touched.add(other);
}

/** Up to when the witness of a drum has told that is farthest behind; null: none is. */
export function lateMsOf({ late }: Witnesses, { drum, meters, stop }: DrumWays): number | null {
  const own = [...late.values()].filter(({ subject, quantity }) =>
    quantity === "flow"
      ? meters.some(({ key }) => key === keyOfMeter(subject))
      : subject.id === drum.id || subject.id === stop?.id,
  );
  return own.length === 0 ? null : Math.min(...own.map(({ lastMs }) => lastMs));
}
