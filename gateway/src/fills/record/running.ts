import type { DrumWitnesses } from "../drum-witnesses.ts";
import type { Fill } from "../fill.ts";
import { reasonNames } from "../guard/guard.ts";
import type { Seeing } from "./book-inflow.ts";
import type { DrumPlace, DrumRecord } from "./drum-record.ts";
import { fillOf, type OpenFill } from "./open-fill.ts";

/** What a drum's fills are followed with. */
export interface Following {
  readonly place: DrumPlace;
  readonly record: DrumRecord;
  readonly said: DrumWitnesses;
  /** Up to when the proof of the overflow float holds; null: it has none. */
  readonly overflowProvedUntilMs: number | null;
  readonly seeing: Seeing;
  /** What came in had waited in a node. */
  readonly isLate: boolean;
  /** A person tries its stop float: that changed over without water. */
  readonly isTried: boolean;
  /** Other nodes may have kept packs too: what has ended is told once they are in. */
  readonly isAwaiting: boolean;
  readonly tell: (fill: Fill) => void;
  /** Judges the fill that ends by what its probe had told before the fill came late. */
  readonly judgeTold: () => void;
  /** Remembers what was not seen of a fill that has ended: its probe's node may have kept it. */
  readonly owe: (open: OpenFill, fill: Fill) => void;
}

/** Up to when what a fill goes by was heard, epoch ms. */
export function lastHeardMs({ said }: Following, open: OpenFill): number {
  if (open.basis === "flow-meter")
    return said.meters.find(({ key }) => key === open.meter?.key)?.lastMs ?? said.atMs;
  if (open.basis === "level") return said.level?.lastMs ?? said.atMs;
  return said.heardMs ?? said.atMs;
}

/** The running fill as it is told. */
export function runningFill({
  place,
  record,
  said,
}: Pick<Following, "place" | "record" | "said">): Fill | null {
  const failed = record.guard.stopFailed;
  const notStopping = failed?.attention === "wake" ? reasonNames[failed.reason] : null;
  const { open } = record;
  const drawnL = said.level?.drawnL ?? 0;
  return open ? fillOf({ drum: place.drum.id, open, ending: null, notStopping, drawnL }) : null;
}

/** Tells the running fill. */
export function tellRunning(of: Following): void {
  const fill = runningFill(of);
  if (!fill || !of.record.open) return;
  of.record.open.toldMs = of.said.atMs;
  of.tell(fill);
}
