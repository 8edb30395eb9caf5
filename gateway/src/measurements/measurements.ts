import { countedBy } from "@drumlin/firmware-protocol";
import type { Act, Calibration } from "../acts/index.ts";
import { type CompiledLine, compileLine, type Line, type Slot } from "../line/index.ts";
import type { StateRow } from "../path/index.ts";
import { type Emit, isStartChannel, type NodePresence } from "../readings/index.ts";
import { resolutionOf } from "./announced.ts";
import { become } from "./become.ts";
import { correctionOf } from "./calibration.ts";
import type { Measurement, Unassigned } from "./measurement.ts";
import { Memory } from "./memory.ts";
import type { HeardReading } from "./step.ts";

/** Of salt water of which nobody said how salt it is to be: sea water. */
export const usualSalinity = 35;

/** Why a calibration was not taken. */
export type CalibrationRefusal = "no-such-channel" | "calibration-not-usable";

/**
 * Readings to measurements: calibration in force, unit, compensation, flags. Temperatures are looked up by the time of
 * the reading, so that live order and event order give the same where nothing came late.
 */
export class Measurements {
  private line: CompiledLine | null = null;
  /** The channel that was asked for last, and its slot. */
  private lastChannel: string | null = null;
  private lastSlot: Slot | undefined;
  private readonly memory = new Memory();

  useLine(next: Line): void {
    const line = compileLine(next);
    this.line = line;
    this.lastChannel = null;
    this.memory.forgetUnassigned(line.hasChannel);
  }

  /** The slot of a channel of the line; undefined where the line has none. */
  slotOf(channel: string): Slot | undefined {
    if (channel !== this.lastChannel) {
      this.lastSlot = this.line?.slotOf.get(channel);
      this.lastChannel = channel;
    }
    return this.lastSlot;
  }

  /** What a node announces of its channels: resolution in their SenML unit, and whether they are at 25 °C. */
  presence({ node, online, channels }: NodePresence): void {
    if (online) this.memory.announce(node, channels);
  }

  /** The smallest step of each probe of conductivity, uS/cm or as its channel has it: the line's word goes before the node's; null: nobody says. */
  *steps(): Iterable<readonly [channel: string, step: number | null]> {
    for (const [channel, slot] of this.line?.slotOf ?? [])
      if (slot.use.signal === "conductivity") yield [channel, resolutionOf(this.memory, slot)];
  }

  /** Why a calibration can't be used; null when it can. */
  refusalOf(calibration: Calibration, nowMs: number): CalibrationRefusal | null {
    const slot = this.line?.slotOf.get(calibration.channel);
    if (!slot) return "no-such-channel";
    return correctionOf(calibration, slot.use.signal, nowMs) ? null : "calibration-not-usable";
  }

  /** Puts a calibration in force from its `validFromMs`, or from now; one that can't be used changes nothing. */
  calibrate(calibration: Calibration, nowMs: number): void {
    const slot = this.line?.slotOf.get(calibration.channel);
    const correction = slot && correctionOf(calibration, slot.use.signal, nowMs);
    if (!correction) return;
    const own = this.memory.channel(calibration.channel);
    own.corrections = [...own.corrections, correction].sort((a, b) => a.validFromMs - b.validFromMs);
  }

  /** From now on this raw contact of a float means "wet"; undefined: as the line says. */
  takeSense(channel: string, wetWhen: boolean | undefined): void {
    if (this.memory.senseOf(channel) !== wetWhen) this.memory.channel(channel).wetWhen = wetWhen;
  }

  /** From now on what is in a drum has this practical salinity. */
  setSalinity(drum: string, salinity: number): void {
    this.memory.takeSalinity(drum, salinity);
  }

  /** What a person says of a batch weighs on a level by pressure: salt is in it, or it was emptied. */
  takeSalt(act: Act, { drums }: Line): void {
    if (act.type === "release")
      this.memory.takeSalinity(
        act.drum,
        act.reason === "dumped" ? 0 : this.memory.salinityIn(act.drum),
        act.reason === "dumped",
      );
    else if (act.type === "release-undo") this.memory.undoSalinity(act.drum);
    else if (act.type === "batch" && (act.step === "salted" || act.step === "ready")) {
      const target = drums.find(({ id }) => id === act.drum)?.target.salinity ?? usualSalinity;
      this.memory.takeSalinity(act.drum, act.salinity ?? target);
    }
  }

  push(reading: HeardReading, emit: Emit<Measurement | Unassigned>): void {
    const { memory, line } = this;
    const { node, channel, unit, value, tMs, flag } = reading;
    const slot = this.slotOf(channel);
    if (line && slot) become({ memory, slot, reading, siteSolids: line.line.solids, emit });
    else if (!countedBy(channel) && !isStartChannel(channel, node)) {
      const { isTaken, replaced } = memory.takeUnassigned(node, channel, tMs);
      if (isTaken) emit({ kind: "unassigned", channel, unit, value, tMs, flag, replaced });
    }
  }

  /** Readings of unassigned channels beyond a node's 32. */
  get unassignedDropped(): number {
    return this.memory.dropped;
  }

  /** Rows that changed since the last call. */
  dirty(): Iterable<StateRow> {
    return this.memory.dirty();
  }

  /** Goes on from rows of `rowsVersion` or an earlier version. */
  load(rows: ReadonlyMap<string, unknown>, fromVersion: number): void {
    this.memory.load(rows, fromVersion);
  }
}
