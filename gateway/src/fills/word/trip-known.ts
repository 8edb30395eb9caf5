import type { Drum } from "../../line/index.ts";
import type { DrumWitnesses } from "../drum-witnesses.ts";
import { type Learned, tripVolumeL } from "../learned.ts";

/** What is known of where a drum's float trips and releases. */
export interface TripKnown {
  readonly drum: Drum;
  readonly said: DrumWitnesses;
  readonly learned: Learned | undefined;
  /** What the drum's water may read, uS/cm; null or absent: nothing is asked of it. */
  readonly band25?: number | null;
}

/** Litres at the trip: as the line says, or learned; null: not known. */
export function tripL({ said, learned }: TripKnown): number | null {
  return said.stop?.tripsAtL ?? (learned ? tripVolumeL(learned, null) : null);
}

/** Litres between release and trip; null: not known. */
export function spanL(known: TripKnown): number | null {
  const top = tripL(known);
  const low = known.said.stop?.releasesAtL ?? null;
  return top === null || low === null || low >= top ? null : top - low;
}
