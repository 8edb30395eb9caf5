import type { Act, Calibration } from "../acts/index.ts";
import { type CompiledLine, compileLine, inOwnUnit, nodeOf } from "../line/index.ts";
import { defineCell, type LineInForce, type Records, type Stage, type StageContext } from "../path/index.ts";
import type { ActEntry, NodePresence, Reading } from "../readings/index.ts";
import type { Measurement, Unassigned } from "./measurement.ts";
import { type CalibrationRefusal, Measurements, usualSalinity } from "./measurements.ts";
import { isProof, type Proof } from "./proofs/proof.ts";
import { saidAnew } from "./proofs/senses.ts";
import type { HeardReading } from "./step.ts";

/** What a channel of the line said last, as it came: uS/cm of a conductivity before calibration, 0 or 1 of a contact. */
export const saidCell = defineCell<number>("said");
/** The smallest step of a probe of conductivity, uS/cm, as the line or its node says; absent: nobody does. */
export const stepCell = defineCell<number>("step");
/** The newest reading of each channel that the line does not use. */
export const unassignedCell = defineCell<Unassigned>("unassigned");
/** The newest reading of each channel that got its place and was not heard since. */
const placedCell = defineCell<Unassigned>("placed");

const refusals: Readonly<Record<CalibrationRefusal, string>> = {
  "no-such-channel": "The line has no such channel.",
  "calibration-not-usable":
    "One or two points are needed, apart from each other, that give a positive slope. A zero in air tells nothing of a cell's factor: enter it together with a standard.",
};

const readingOf = ({ channel, unit, value, tMs, flag = 1 }: Unassigned): HeardReading => ({
  node: nodeOf(channel),
  channel,
  unit,
  value,
  tMs,
  flag,
});

/** What the logbook says of a batch, as far as it weighs on a level by pressure. */
interface SaltRecord {
  readonly drum: string;
  readonly salt: readonly unknown[];
  readonly salinity: number | null;
}

type Heard = Reading | NodePresence | ActEntry | Proof | LineInForce;
type Told = Measurement | Unassigned;

/**
 * What channels said that a new line gives a place, or takes it from: what one said while it had none is told there, and
 * where the place is taken back it has none again.
 */
function movedBy({ hasChannel }: CompiledLine, ctx: StageContext<Told>): readonly Unassigned[] {
  const unplaced = [...ctx.entries(unassignedCell)].filter(([channel]) => hasChannel(channel));
  const placed = [...ctx.entries(placedCell)].filter(([channel]) => !hasChannel(channel));
  for (const [channel, said] of unplaced) {
    ctx.put(unassignedCell, channel, undefined);
    ctx.put(placedCell, channel, said);
  }
  for (const [channel] of placed) ctx.put(placedCell, channel, undefined);
  return [...unplaced, ...placed].map(([, said]) => said);
}

/** Tells what comes of readings, each at once, in the step of the reading that is taken: one for all of them. */
class Teller {
  ctx: StageContext<Told> | null = null;
  readonly tell = (outcome: Told): void => {
    const ctx = this.ctx as StageContext<Told>;
    if (outcome.kind === "unassigned") {
      if (outcome.replaced !== null) ctx.put(unassignedCell, outcome.replaced, undefined);
      ctx.put(unassignedCell, outcome.channel, outcome);
    }
    ctx.tell(outcome);
  };
}

/** The stage of the path that says what readings mean. */
export function createMeasurementsStage(): Stage<Heard, Told> {
  let measurements = new Measurements();
  let line: CompiledLine | null = null;
  const teller = new Teller();

  function keepSaid({ channel, value, unit }: HeardReading, ctx: StageContext<Told>): void {
    const signal = measurements.slotOf(channel)?.use.signal;
    if (signal !== "conductivity" && signal !== "contact") return;
    const said = inOwnUnit(signal, value, unit);
    if (said !== null) ctx.put(saidCell, channel, said);
  }

  function putSteps(ctx: StageContext<Told>): void {
    for (const [channel, step] of measurements.steps())
      if (ctx.get(stepCell, channel) !== (step ?? undefined)) ctx.put(stepCell, channel, step ?? undefined);
  }

  function take(reading: HeardReading, ctx: StageContext<Told>): void {
    keepSaid(reading, ctx);
    teller.ctx = ctx;
    measurements.push(reading, teller.tell);
  }

  return {
    name: "measurements",
    version: 2,
    owns: [saidCell, unassignedCell, placedCell, stepCell],
    reads: [],
    acts: ["calibration"],
    hears: {
      reading(reading, ctx) {
        if (ctx.get(placedCell, reading.channel)) ctx.put(placedCell, reading.channel, undefined);
        take(reading, ctx);
      },
      // Not in `useLine`: stages behind hear it when they have the line too.
      line(_told, ctx) {
        if (line) for (const said of movedBy(line, ctx)) take(readingOf(said), ctx);
        putSteps(ctx);
      },
      presence(presence, ctx) {
        measurements.presence(presence);
        putSteps(ctx);
      },
      proof(proof) {
        if (isProof(proof)) measurements.takeSense(proof.channel, proof.wetWhen ?? undefined);
      },
      act({ act }, ctx) {
        if (act.type === "calibration") measurements.calibrate(act, ctx.nowMs);
        else if (line) measurements.takeSalt(act, line.line);
      },
    },
    useLine(next, was) {
      line = compileLine(next);
      measurements.useLine(next);
      for (const channel of saidAnew(next, was)) measurements.takeSense(channel, undefined);
    },
    admit(act: Act, ctx) {
      if (act.type !== "calibration") return null;
      const code = measurements.refusalOf(act, ctx.nowMs);
      return code === null ? null : { code, message: refusals[code] };
    },
    dirty: () => measurements.dirty(),
    load(rows, fromVersion) {
      if (fromVersion > 2) return false;
      measurements.load(rows, fromVersion);
      return true;
    },
    seed(records: Records) {
      measurements = new Measurements();
      if (line) measurements.useLine(line.line);
      for (const calibration of records.list("calibration", Number.POSITIVE_INFINITY) as Calibration[])
        measurements.calibrate(calibration, calibration.validFromMs ?? Number.NEGATIVE_INFINITY);
      for (const proof of records.last("proof") as Proof[])
        if (proof.wetWhen !== null) measurements.takeSense(proof.channel, proof.wetWhen);
      for (const presence of records.last("presence") as NodePresence[]) measurements.presence(presence);
      for (const { drum, salt, salinity } of records.last("batch") as SaltRecord[])
        if (salt.length > 0) measurements.setSalinity(drum, salinity ?? usualSalinity);
    },
  };
}
