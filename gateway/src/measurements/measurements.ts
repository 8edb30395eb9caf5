import type { Calibration } from "../acts/index.ts";
import { type ChannelUse, type Line, pointsByNearness } from "../line/index.ts";
import type { Emit, Flag, NodePresence, Reading } from "../readings/index.ts";
import {
  atPureWaterLimit,
  kappa25OfSolids,
  linear25,
  natural25,
  outsideNaturalRange,
  practicalSalinity,
  pure25,
} from "../water/index.ts";
import { type Correction, correctionOf, uncorrected } from "./calibration.ts";
import { drumLitres, inOwnUnit } from "./convert.ts";
import type { FlagReason, MeasuredQuantity, Measurement, Unassigned } from "./measurement.ts";
import { remember, type TemperatureTrace, temperatureAt } from "./temperatures.ts";

/** Assumed where no probe tells: 15 ± 5 °C, about 10 % of κ25 (common practice, no source). */
const assumedC = 15;
/** A probe that read above its resolution within this time has proved itself alive. */
const aliveMs = 7 * 86_400_000;
const mostUnassignedOfNode = 32;

/** What a channel can say at all; beyond is a fault of the probe, QARTOD gross range test (T/S manual v2.0, 2016). */
const sensorRange: Readonly<Record<ChannelUse["signal"], readonly [number, number]>> = {
  conductivity: [0, 200_000],
  solids: [0, 200_000],
  temperature: [-20, 80],
  pressure: [-1, 100],
  level: [-0.5, 20],
  distance: [0, 20],
  volume: [-50, 1e6],
  flow: [-1000, 10_000],
  contact: [0, 1],
};

interface Announced {
  readonly resolution: number | null;
  readonly at25: boolean;
}

/** The whole state as plain JSON. */
export interface MeasurementsState {
  readonly corrections: Readonly<Record<string, readonly Correction[]>>;
  readonly temperatures: Readonly<Record<string, TemperatureTrace>>;
  readonly announced: Readonly<Record<string, Announced>>;
  readonly aliveAtMs: Readonly<Record<string, number>>;
  readonly lastNonZero: Readonly<Record<string, number>>;
  readonly unassigned: Readonly<Record<string, readonly string[]>>;
  readonly unassignedDropped: number;
}

interface Judged {
  flag: Flag;
  readonly reasons: FlagReason[];
}

/**
 * Readings to measurements: calibration in force, unit, compensation, flags. Temperatures are looked up by the time of
 * the reading, so that live order and event order give the same where nothing came late.
 */
export function createMeasurements() {
  let line: Line | null = null;
  let corrections: Record<string, Correction[]> = {};
  let temperatures: Record<string, TemperatureTrace> = {};
  let announced: Record<string, Announced> = {};
  let aliveAtMs: Record<string, number> = {};
  let lastNonZero: Record<string, number> = {};
  let unassigned: Record<string, string[]> = {};
  let unassignedDropped = 0;
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

  /** Gives a reason; the flag only ever gets worse, from pass or not evaluated to suspect to fail. */
  function worsen(judged: Judged, flag: 1 | 2 | 3 | 4, reason: FlagReason): void {
    if (flag === 4 || (flag === 3 && judged.flag !== 4) || (flag === 2 && judged.flag === 1))
      judged.flag = flag;
    judged.reasons.push(reason);
  }

  function correctionAt(channel: string, tMs: number): Correction {
    const all = corrections[channel] ?? [];
    return all.findLast((correction) => correction.validFromMs <= tMs) ?? uncorrected;
  }

  function takeUnassigned(reading: Reading, emit: Emit<Measurement | Unassigned>): void {
    unassigned[reading.node] ??= [];
    const known = unassigned[reading.node] as string[];
    if (!known.includes(reading.channel)) {
      if (known.length >= mostUnassignedOfNode) {
        unassignedDropped += 1;
        return;
      }
      known.push(reading.channel);
    }
    emit({
      kind: "unassigned",
      id: nextId(reading.seq),
      channel: reading.channel,
      unit: reading.unit,
      value: reading.value,
      tMs: reading.tMs,
    });
  }

  function compensationTemperature(
    use: ChannelUse,
    tMs: number,
    judged: Judged,
  ): { readonly tC: number; readonly assumed: boolean } {
    const owner =
      use.subject.kind === "drum"
        ? line?.drums.find((drum) => drum.id === use.subject.id)
        : line?.points.find((point) => point.id === use.subject.id);
    const own = owner?.temperature ?? null;
    const ownC = own ? temperatureAt(temperatures[own], tMs) : null;
    if (ownC !== null) return { tC: ownC, assumed: false };
    if (line && use.subject.kind === "point") {
      for (const id of pointsByNearness(line, use.subject.id)) {
        const channel = line.points.find((point) => point.id === id)?.temperature;
        const tC = channel && channel !== own ? temperatureAt(temperatures[channel], tMs) : null;
        if (tC !== null) {
          worsen(
            judged,
            own && temperatures[own] ? 3 : 1,
            own && temperatures[own] ? "temperature-lost" : "temperature-borrowed",
          );
          return { tC, assumed: false };
        }
      }
    }
    if (own && temperatures[own]) worsen(judged, 3, "temperature-lost");
    else worsen(judged, 1, "temperature-assumed");
    return { tC: assumedC, assumed: true };
  }

  function resolutionOf(use: ChannelUse): number | null {
    return use.resolution ?? announced[use.channel]?.resolution ?? null;
  }

  function judgeConductivity(use: ChannelUse, kappa: number, tMs: number, judged: Judged): boolean {
    const resolution = resolutionOf(use);
    const before = lastNonZero[use.channel];
    if (kappa === 0) {
      // Natural water is never 0, and pure water doesn't get there in one step: the circuit is open.
      const natural = use.compensation === "natural" || use.compensation === "linear";
      if (natural || (before !== undefined && before > 10 * Math.max(resolution ?? 0, 0.1))) {
        worsen(judged, 4, "open-circuit");
        return false;
      }
    } else lastNonZero[use.channel] = kappa;
    if (resolution === null) return false;
    if (kappa > resolution) {
      aliveAtMs[use.channel] = tMs;
      return false;
    }
    const alive = aliveAtMs[use.channel];
    if (alive !== undefined && tMs - alive <= aliveMs) judged.reasons.push("below-resolution");
    else worsen(judged, 3, "unproven");
    return true;
  }

  function compensate(
    use: ChannelUse,
    kappa: number,
    tMs: number,
    judged: Judged,
  ): { readonly kappa25: number; readonly tC: number | null; readonly assumed: boolean } {
    if (use.compensation === "none" || announced[use.channel]?.at25)
      return { kappa25: kappa, tC: null, assumed: false };
    const { tC, assumed } = compensationTemperature(use, tMs, judged);
    switch (use.compensation) {
      case "linear":
        return { kappa25: linear25(kappa, tC, use.alphaPerC), tC, assumed };
      case "natural":
        if (outsideNaturalRange(tC)) worsen(judged, 3, "outside-compensation-range");
        return { kappa25: natural25(kappa, tC), tC, assumed };
      case "pure":
        if (atPureWaterLimit(kappa, tC)) judged.reasons.push("at-pure-water-limit");
        return { kappa25: pure25(kappa, tC), tC, assumed };
    }
  }

  function push(reading: Reading, _nowMs: number, emit: Emit<Measurement | Unassigned>): void {
    const use = line?.channels[reading.channel];
    if (!use) {
      takeUnassigned(reading, emit);
      return;
    }
    const put = (
      quantity: MeasuredQuantity,
      value: number | null,
      judged: Judged,
      more: Partial<Pick<Measurement, "belowResolution" | "estimated">> = {},
    ): void => {
      const usable = value !== null && Number.isFinite(value);
      emit({
        kind: "measurement",
        id: nextId(reading.seq),
        channel: reading.channel,
        subject: use.subject,
        quantity,
        value: usable ? value : null,
        tMs: reading.tMs,
        flag: usable ? judged.flag : 9,
        reasons: usable ? judged.reasons : [...judged.reasons, "not-a-value"],
        ...more,
      });
    };
    const judged: Judged = { flag: 1, reasons: [] };
    const quantity = quantityOf(use);
    if (reading.flag === 3) {
      emit({
        kind: "measurement",
        id: nextId(reading.seq),
        channel: reading.channel,
        subject: use.subject,
        quantity,
        value: null,
        tMs: reading.tMs,
        flag: 9,
        reasons: ["settling-after-boot"],
      });
      return;
    }
    if (reading.flag === 2) worsen(judged, 2, "arrival-time");
    const own = inOwnUnit(use.signal, reading.value, reading.unit);
    if (own === null) {
      put(quantity, null, { flag: 9, reasons: ["unit-mismatch"] });
      return;
    }
    const { factor, offset } = correctionAt(reading.channel, reading.tMs);
    const value = own * use.scale * factor + offset;
    const [least, most] = use.range ? [use.range.min, use.range.max] : sensorRange[use.signal];
    if (value > most) worsen(judged, 4, "over-range");
    if (value < least) worsen(judged, 4, "under-range");
    switch (use.signal) {
      case "conductivity": {
        const below = judgeConductivity(use, value, reading.tMs, judged);
        const of25: Judged = { flag: judged.flag, reasons: [...judged.reasons] };
        put("conductivity", value, judged, below ? { belowResolution: true } : {});
        const { kappa25, tC, assumed } = compensate(use, value, reading.tMs, of25);
        put("conductivity25", kappa25, of25, {
          ...(below ? { belowResolution: true } : {}),
          ...(assumed ? { estimated: true } : {}),
        });
        if (value > 2000 && tC !== null) {
          const salinity = practicalSalinity(value, tC);
          if (salinity !== null) put("salinity", salinity, of25, assumed ? { estimated: true } : {});
        }
        return;
      }
      case "solids":
        put(
          "conductivity25",
          kappa25OfSolids(
            value,
            use.solidsScale ?? line?.solids ?? { kind: "factor", mgPerLPerUsPerCm: 0.64 },
          ),
          judged,
        );
        return;
      case "temperature":
        temperatures[reading.channel] ??= [];
        if (judged.flag !== 4)
          remember(temperatures[reading.channel] as TemperatureTrace, reading.tMs, value);
        put("temperature", value, judged);
        return;
      case "contact":
        put("state", contactState(use, value), judged);
        return;
      case "pressure":
      case "level":
      case "distance":
      case "volume": {
        const drum =
          use.subject.kind === "drum"
            ? line?.drums.find((candidate) => candidate.id === use.subject.id)
            : undefined;
        if (use.signal !== "volume") put(use.signal === "pressure" ? "pressure" : "level", value, judged);
        if (drum?.level) put("volume", drumLitres(drum.level, value), judged);
        return;
      }
      case "flow":
        put("flow", value, judged);
        return;
    }
  }

  /** 1 = wet, open, running. A float whose sense is not known yet is taken as "closed means wet". */
  function contactState(use: ChannelUse, value: number): number {
    const on = value === 1;
    const float = line?.drums
      .flatMap((drum) => drum.floats)
      .find((candidate) => candidate.channel === use.channel);
    const inlet = line?.drums.find((drum) => drum.inlet?.channel === use.channel)?.inlet;
    const pump = line?.pumps.find((candidate) => candidate.channel === use.channel);
    const floor = line?.floors.find((candidate) => candidate.channel === use.channel);
    const active = float
      ? (float.wetWhen ?? true)
      : inlet
        ? inlet.openWhen
        : pump
          ? pump.runsWhen
          : (floor?.wetWhen ?? true);
    return on === active ? 1 : 0;
  }

  return {
    useLine(next: Line): void {
      line = next;
      for (const [node, channels] of Object.entries(unassigned))
        unassigned[node] = channels.filter((channel) => !next.channels[channel]);
    },
    /** What a node announces of its channels: resolution in their SenML unit, and whether they are at 25 °C. */
    presence(presence: NodePresence): void {
      for (const channel of presence.channels) {
        const name = `${presence.node}/${channel.name}`;
        const use = line?.channels[name];
        const resolution =
          channel.resolution !== null && use ? inOwnUnit(use.signal, channel.resolution, channel.unit) : null;
        announced[name] = { resolution, at25: channel.at25 };
      }
    },
    /** Puts a calibration in force from its `validFromMs`, or from now. */
    act(calibration: Calibration, nowMs: number): void {
      const use = line?.channels[calibration.channel];
      const correction = use ? correctionOf(calibration, use.signal, nowMs) : null;
      if (!correction) return;
      corrections[calibration.channel] ??= [];
      const all = corrections[calibration.channel] as Correction[];
      all.push(correction);
      all.sort((a, b) => a.validFromMs - b.validFromMs);
    },
    push,
    nextDeadline: (): number | null => null,
    pass(): void {},
    unassignedDropped: (): number => unassignedDropped,
    snapshot: (): MeasurementsState => ({
      corrections,
      temperatures,
      announced,
      aliveAtMs,
      lastNonZero,
      unassigned,
      unassignedDropped,
    }),
    restore(state: MeasurementsState): void {
      ({ corrections, temperatures, announced, aliveAtMs, lastNonZero, unassigned, unassignedDropped } =
        structuredClone(state) as typeof state & {
          corrections: Record<string, Correction[]>;
          unassigned: Record<string, string[]>;
        });
    },
  };
}

function quantityOf(use: ChannelUse): MeasuredQuantity {
  switch (use.signal) {
    case "conductivity":
      return "conductivity";
    case "solids":
      return "conductivity25";
    case "distance":
      return "level";
    case "contact":
      return "state";
    case "temperature":
    case "pressure":
    case "level":
    case "volume":
    case "flow":
      return use.signal;
  }
}
