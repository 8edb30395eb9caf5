import type { MeasuredQuantity, Slot, SolidsScale } from "../line/index.ts";
import type { Emit, Reading } from "../readings/index.ts";
import type { Judged } from "./judged.ts";
import type { FlagReason, Measurement, Unassigned } from "./measurement.ts";
import type { Memory } from "./memory.ts";

/** What of a reading decides what it means. */
export type HeardReading = Pick<Reading, "node" | "channel" | "unit" | "value" | "tMs" | "flag">;

/** One reading of a channel of the line, on its way to measurements. */
export interface Step {
  readonly memory: Memory;
  readonly slot: Slot;
  readonly reading: HeardReading;
  /** The scale of a channel that says solids and names none of its own. */
  readonly siteSolids: SolidsScale;
  readonly emit: Emit<Measurement | Unassigned>;
}

/** A step whose reading has a value: what the probe said, and what that is after calibration; in the signal's own unit. */
export interface ValueStep extends Step {
  readonly said: number;
  readonly value: number;
  readonly judged: Judged;
}

/** What is told beside a measurement's value. */
export type More = Partial<Pick<Measurement, "belowResolution" | "estimated">>;

/** What is measured, and how good it is. */
interface Told {
  readonly quantity: MeasuredQuantity;
  readonly value: number | null;
  readonly judged: Judged;
  readonly more?: More | undefined;
}

/** Tells one measurement; a value that is no number is missing (9). */
export function tell({ slot, reading, emit }: Step, { quantity, value, judged, more }: Told): void {
  const isUsable = value !== null && Number.isFinite(value);
  const measurement: Measurement = {
    kind: "measurement",
    channel: slot.channel,
    subject: slot.subject,
    quantity,
    value: isUsable ? value : null,
    tMs: reading.tMs,
    flag: isUsable ? judged.flag : 9,
    reasons: isUsable ? judged.reasons : [...judged.reasons, "not-a-value"],
  };
  emit(more ? { ...measurement, ...more } : measurement);
}

/** Tells that quantities are missing, and why. */
export function tellMissing(step: Step, quantities: readonly MeasuredQuantity[], reason: FlagReason): void {
  const { slot, reading, emit } = step;
  for (const quantity of quantities)
    emit({
      kind: "measurement",
      channel: slot.channel,
      subject: slot.subject,
      quantity,
      value: null,
      tMs: reading.tMs,
      flag: 9,
      reasons: [reason],
    });
}
