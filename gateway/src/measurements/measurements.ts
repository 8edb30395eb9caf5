import type { Calibration } from "../acts/index.ts";
import {
  type ChannelUse,
  inOwnUnit,
  type Line,
  type MeasuredQuantity,
  type SolidsScale,
} from "../line/index.ts";
import type { Emit, NodePresence, Reading } from "../readings/index.ts";
import { practicalSalinity } from "../water/index.ts";
import { type Correction, correctionOf, uncorrected } from "./calibration.ts";
import { drumLitres } from "./convert.ts";
import { judgeGrossRange } from "./gross-range.ts";
import { type Judged, worsen } from "./judged.ts";
import type { FlagReason, Measurement, Unassigned } from "./measurement.ts";
import { type Place, placesOf } from "./places.ts";
import { judgeLife, type Life } from "./proof-of-life.ts";
import { compensated25, kappa25OfScale } from "./reference-conductivity.ts";
import { leavesSteadyPair, naturalStep, type Recent, temperatureStep } from "./spikes.ts";
import { compensationTemperature, remember, type TemperatureTrace } from "./temperatures.ts";
import { createUnassigned, type UnassignedState } from "./unassigned.ts";

/** Above this conductivity (uS/cm) salinity is told too: fresh water lies below (PSS-78 begins at salinity 2). */
const salinityFromUsPerCm = 2000;

type Announced = NodePresence["channels"];

/** A map as plain JSON. */
type Entries<Value> = readonly (readonly [key: string, value: Value])[];

/** The whole state as plain JSON. */
export interface MeasurementsState {
  readonly corrections: Entries<readonly Correction[]>;
  readonly temperatures: Entries<TemperatureTrace>;
  readonly announced: Entries<Announced>;
  readonly lives: Entries<Life>;
  readonly recent: Entries<Recent>;
  readonly unassigned: UnassignedState;
}

/** What is told beside a measurement's value. */
type More = Partial<Pick<Measurement, "belowResolution" | "estimated">>;

/**
 * Readings to measurements: calibration in force, unit, compensation, flags. Temperatures are looked up by the time of
 * the reading, so that live order and event order give the same where nothing came late. Its maps hold channels of the
 * line, what signed-in nodes announce (64 channels each), and 32 unassigned channels a node.
 */
export function createMeasurements() {
  let line: Line | null = null;
  let places: ReadonlyMap<string, Place> = new Map();
  let corrections = new Map<string, Correction[]>();
  let temperatures = new Map<string, TemperatureTrace>();
  let announced = new Map<string, Announced>();
  let lives = new Map<string, Life>();
  let recent = new Map<string, Recent>();
  const unassigned = createUnassigned();
  let entrySeq = 0;
  let outcomes = 0;

  function nextId(seq: number): string {
    if (seq !== entrySeq) {
      entrySeq = seq;
      outcomes = 0;
    }
    outcomes += 1;
    return `${seq}.m${outcomes}`;
  }

  function announcedOf({ channel }: ChannelUse): Announced[number] | undefined {
    const slash = channel.indexOf("/");
    const name = channel.slice(slash + 1);
    return announced.get(channel.slice(0, slash))?.find((candidate) => candidate.name === name);
  }

  /** In the channel's own unit; the line's word goes before the node's. */
  function resolutionOf(use: ChannelUse): number | null {
    if (use.resolution !== null) return use.resolution;
    const said = announcedOf(use);
    return said && said.resolution !== null ? inOwnUnit(use.signal, said.resolution, said.unit) : null;
  }

  function isAt25(use: ChannelUse): boolean {
    return use.compensation === "none" || announcedOf(use)?.at25 === true;
  }

  function solidsScaleOf(use: ChannelUse): SolidsScale {
    return use.solidsScale ?? (line as Line).solids;
  }

  /** What a channel's readings become, whether or not they can be used. */
  function quantitiesOf({ use, level }: Place): readonly MeasuredQuantity[] {
    switch (use.signal) {
      case "conductivity":
        return isAt25(use) ? ["conductivity25"] : ["conductivity", "conductivity25"];
      case "solids":
        return ["conductivity25"];
      case "pressure":
        return level ? ["pressure", "volume"] : ["pressure"];
      case "level":
      case "distance":
        return level ? ["level", "volume"] : ["level"];
      case "contact":
        return ["state"];
      case "temperature":
      case "volume":
      case "flow":
        return [use.signal];
    }
  }

  function push(reading: Reading, _nowMs: number, emit: Emit<Measurement | Unassigned>): void {
    const { channel, tMs } = reading;
    const place = places.get(channel);
    if (!place) {
      if (unassigned.take(reading)) {
        const { unit, value } = reading;
        emit({ kind: "unassigned", id: nextId(reading.seq), channel, unit, value, tMs });
      }
      return;
    }
    const { use } = place;
    const put = (
      quantity: MeasuredQuantity,
      value: number | null,
      { flag, reasons }: Judged,
      more: More = {},
    ) => {
      const usable = value !== null && Number.isFinite(value);
      emit({
        kind: "measurement",
        id: nextId(reading.seq),
        channel,
        subject: use.subject,
        quantity,
        value: usable ? value : null,
        tMs,
        flag: usable ? flag : 9,
        reasons: usable ? reasons : [...reasons, "not-a-value"],
        ...more,
      });
    };
    const missing = (reason: FlagReason) => {
      for (const quantity of quantitiesOf(place))
        emit({
          kind: "measurement",
          id: nextId(reading.seq),
          channel,
          subject: use.subject,
          quantity,
          value: null,
          tMs,
          flag: 9,
          reasons: [reason],
        });
    };

    if (reading.flag === 3) {
      missing("settling-after-boot");
      return;
    }
    const own = inOwnUnit(use.signal, reading.value, reading.unit);
    if (own === null) {
      missing("unit-mismatch");
      return;
    }
    const judged: Judged = { flag: 1, reasons: [] };
    if (reading.flag === 2) worsen(judged, 2, "arrival-time");
    const { factor, offset } =
      corrections.get(channel)?.findLast(({ validFromMs }) => validFromMs <= tMs) ?? uncorrected;
    const said = own * use.scale;
    const value = said * factor + offset;
    judgeGrossRange(use, said, value, judged);

    switch (use.signal) {
      case "conductivity": {
        const below = judgeLife(lives, use, value, said === 0, resolutionOf(use), tMs, judged);
        if (
          judged.flag !== 4 &&
          (use.compensation === "natural" || use.compensation === "linear") &&
          leavesSteadyPair(recent, channel, tMs, value, naturalStep)
        )
          worsen(judged, 3, "spike");
        const more: More = below ? { belowResolution: true } : {};
        if (isAt25(use)) {
          put("conductivity25", value, judged, more);
          return;
        }
        put("conductivity", value, judged, more);
        const of25: Judged = { flag: judged.flag, reasons: [...judged.reasons] };
        const { tC, assumed } = compensationTemperature(temperatures, place, tMs, of25);
        const estimated: More = assumed ? { estimated: true } : {};
        put("conductivity25", compensated25(use, value, tC, of25), of25, { ...more, ...estimated });
        const salinity = value > salinityFromUsPerCm ? practicalSalinity(value, tC) : null;
        if (salinity !== null) put("salinity", salinity, of25, estimated);
        return;
      }
      case "solids": {
        const scale = solidsScaleOf(use);
        const kappa25 = kappa25OfScale(value, scale);
        if (kappa25 === null && value > 0) worsen(judged, 4, "over-range");
        const step = resolutionOf(use);
        const resolution = step === null ? null : kappa25OfScale(step, scale);
        const below = kappa25 !== null && judgeLife(lives, use, kappa25, said === 0, resolution, tMs, judged);
        put("conductivity25", kappa25, judged, below ? { belowResolution: true } : {});
        return;
      }
      case "temperature": {
        if (judged.flag !== 4) {
          if (leavesSteadyPair(recent, channel, tMs, value, temperatureStep)) worsen(judged, 3, "spike");
          else {
            const trace = temperatures.get(channel) ?? [];
            remember(trace, tMs, value);
            temperatures.set(channel, trace);
          }
        }
        put("temperature", value, judged);
        return;
      }
      case "contact":
        put("state", (value === 1) === place.activeWhen ? 1 : 0, judged);
        return;
      case "volume":
      case "flow":
        put(use.signal, value, judged);
        return;
      case "pressure":
      case "level":
      case "distance":
        put(use.signal === "pressure" ? "pressure" : "level", value, judged);
        if (place.level) put("volume", drumLitres(place.level, value), judged);
        return;
    }
  }

  return {
    useLine(next: Line): void {
      line = next;
      places = placesOf(next);
      unassigned.forget((channel) => places.has(channel));
    },
    /** What a node announces of its channels: resolution in their SenML unit, and whether they are at 25 °C. */
    presence({ node, online, channels }: NodePresence): void {
      if (online) announced.set(node, channels);
    },
    /** Why a calibration can't be used; null when it can. */
    refusalOf(calibration: Calibration, nowMs: number): "no-such-channel" | "calibration-not-usable" | null {
      const place = places.get(calibration.channel);
      if (!place) return "no-such-channel";
      return correctionOf(calibration, place.use.signal, nowMs) ? null : "calibration-not-usable";
    },
    /** Puts a calibration in force from its `validFromMs`, or from now; one that can't be used changes nothing. */
    act(calibration: Calibration, nowMs: number): void {
      const place = places.get(calibration.channel);
      const correction = place && correctionOf(calibration, place.use.signal, nowMs);
      if (!correction) return;
      const all = [...(corrections.get(calibration.channel) ?? []), correction];
      corrections.set(
        calibration.channel,
        all.sort((a, b) => a.validFromMs - b.validFromMs),
      );
    },
    push,
    nextDeadline: (): number | null => null,
    pass(): void {},
    /** Readings of unassigned channels beyond a node's 32. */
    unassignedDropped: (): number => unassigned.dropped(),
    snapshot: (): MeasurementsState => ({
      corrections: [...corrections],
      temperatures: [...temperatures],
      announced: [...announced],
      lives: [...lives],
      recent: [...recent],
      unassigned: unassigned.snapshot(),
    }),
    restore(state: MeasurementsState): void {
      const saved = structuredClone(state);
      corrections = new Map(saved.corrections.map(([channel, all]) => [channel, [...all]]));
      temperatures = new Map(saved.temperatures);
      announced = new Map(saved.announced);
      lives = new Map(saved.lives);
      recent = new Map(saved.recent);
      unassigned.restore(saved.unassigned);
    },
  };
}
