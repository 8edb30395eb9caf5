import type { Calibration } from "../acts/index.ts";
import { type CompiledLine, compileLine, type Line } from "../line/index.ts";
import type { Emit, NodePresence, Reading } from "../readings/index.ts";
import { become } from "./become.ts";
import { correctionOf } from "./calibration.ts";
import type { Measurement, Unassigned } from "./measurement.ts";
import { emptyMemory, type MeasurementsState, type Memory, memoryOf, snapshotOf } from "./memory.ts";
import { OutcomeIds } from "./step.ts";

function refusalOf(
  line: CompiledLine | null,
  calibration: Calibration,
  nowMs: number,
): "no-such-channel" | "calibration-not-usable" | null {
  const slot = line?.slotOf.get(calibration.channel);
  if (!slot) return "no-such-channel";
  return correctionOf(calibration, slot.use.signal, nowMs) ? null : "calibration-not-usable";
}

function calibrate(
  { corrections }: Memory,
  line: CompiledLine | null,
  calibration: Calibration,
  nowMs: number,
): void {
  const { channel } = calibration;
  const slot = line?.slotOf.get(channel);
  const correction = slot && correctionOf(calibration, slot.use.signal, nowMs);
  if (!correction) return;
  const all = [...(corrections.get(channel) ?? []), correction];
  corrections.set(
    channel,
    all.sort((a, b) => a.validFromMs - b.validFromMs),
  );
}

/**
 * Readings to measurements: calibration in force, unit, compensation, flags. Temperatures are looked up by the time of
 * the reading, so that live order and event order give the same where nothing came late. Its maps hold channels of the
 * line, what signed-in nodes announce (64 channels each), and 32 unassigned channels a node.
 */
export function createMeasurements() {
  let line: CompiledLine | null = null;
  let memory = emptyMemory();
  const ids = new OutcomeIds();

  return {
    useLine(next: Line): void {
      line = compileLine(next);
      memory.unassigned.forget(line.hasChannel);
    },
    /** What a node announces of its channels: resolution in their SenML unit, and whether they are at 25 °C. */
    presence({ node, online, channels }: NodePresence): void {
      if (online) memory.announced.set(node, channels);
    },
    /** Why a calibration can't be used; null when it can. */
    refusalOf: (calibration: Calibration, nowMs: number) => refusalOf(line, calibration, nowMs),
    /** Puts a calibration in force from its `validFromMs`, or from now; one that can't be used changes nothing. */
    act: (calibration: Calibration, nowMs: number): void => calibrate(memory, line, calibration, nowMs),
    push(reading: Reading, _nowMs: number, emit: Emit<Measurement | Unassigned>): void {
      const slot = line?.slotOf.get(reading.channel);
      if (line && slot) {
        become({ memory, slot, reading, siteSolids: line.line.solids, ids, emit });
        return;
      }
      if (!memory.unassigned.take(reading)) return;
      const { seq, channel, unit, value, tMs } = reading;
      emit({ kind: "unassigned", id: ids.next(seq), channel, unit, value, tMs });
    },
    nextDeadline: (): number | null => null,
    pass(): void {},
    /** Readings of unassigned channels beyond a node's 32. */
    unassignedDropped: (): number => memory.unassigned.dropped(),
    snapshot: (): MeasurementsState => snapshotOf(memory),
    restore(state: MeasurementsState): void {
      memory = memoryOf(state);
    },
  };
}
