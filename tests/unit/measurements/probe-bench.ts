import { readLine } from "@drumlin/gateway/line";
import { type Measurement, Measurements, type Unassigned } from "@drumlin/gateway/measurements";
import type { NodePresence, Reading } from "@drumlin/gateway/readings";

/** Begin of every test, epoch ms. */
export const beginMs = Date.UTC(2026, 2, 3, 4, 0, 0);

/** A line with every signal on it. */
const everySignal = `drumlin: 1
site: saltmarsh-house
points:
  supply: { conductivity: press/ec-1, temperature: press/t-1, pressure: press/p-1 }
  after-carbon: { conductivity: { channel: press/ec-3, compensation: linear } }
  after-resin: { conductivity: { channel: press/ec-2, resolution: 0.1 uS/cm }, flow: press/flow-1 }
  pen: { conductivity: { channel: press/pen, solids: 0.5, resolution: 1 mg/L } }
  salt-pen: { conductivity: { channel: press/salt-pen, solids: nacl } }
  meter: { conductivity: { channel: press/ec-9, at25: true } }
stages:
  carbon: { kind: carbon, from: supply, to: after-carbon }
  resin: { kind: resin, from: after-carbon, to: after-resin }
drums:
  mix: { volume: 200 L, fed_by: after-resin, stop: { channel: drums/f-1, wet: false }, inlet: { channel: drums/v-1, open: true }, temperature: drums/t-1, conductivity: drums/ec-1, holds: salt, level: { channel: drums/l-1, as: depth, strapping: { 0 m: 0 L, 0.5 m: 100 L, 0.75 m: 200 L } } }
  fresh: { volume: 200 L, fed_by: after-carbon, stop: drums/f-2, level: { channel: drums/p-2, as: pressure, strapping: { 0 m: 0 L, 1 m: 200 L } } }
buttons: { hall: { channel: hall/b-1, pressed: false } }
`;

/** Drives the room alone; times in seconds since `beginMs`. */
export function createProbeBench(yaml = everySignal) {
  const result = readLine(yaml);
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  const { line } = result;
  let measurements = new Measurements();
  measurements.useLine(line);
  const saved = new Map<string, unknown>();
  let seq = 0;
  const outcomes: (Measurement | Unassigned)[] = [];
  return {
    outcomes,
    line,
    room: () => measurements,
    /** One reading; gives what came of it. */
    read(channel: string, unit: string | null, value: number, atS = 0, flag: Reading["flag"] = 1) {
      seq += 1;
      const before = outcomes.length;
      const tMs = beginMs + atS * 1000;
      const node = channel.split("/")[0] ?? "";
      measurements.push({ node, channel, unit, value, tMs, flag }, (outcome) => outcomes.push(outcome));
      return outcomes.slice(before);
    },
    /** The one measurement of a quantity that a reading gives. */
    measure(quantity: string, channel: string, unit: string | null, value: number, atS = 0): Measurement {
      const found = this.read(channel, unit, value, atS).find(
        (outcome): outcome is Measurement => outcome.kind === "measurement" && outcome.quantity === quantity,
      );
      if (!found) throw new Error(`no ${quantity} came of ${channel}`);
      return found;
    },
    presence(node: string, channels: NodePresence["channels"], online = true) {
      measurements.presence({
        kind: "presence",
        seq,
        node,
        online,
        boot: 1,
        firmware: null,
        protocol: 1,
        periodMs: 5000,
        channels,
        atMs: beginMs,
      });
    },
    calibrate(channel: string, points: readonly (readonly [read: number, truly: number])[], validFromS = 0) {
      measurements.calibrate(
        {
          id: "c",
          by: "keeper",
          type: "calibration",
          channel,
          points: points.map(([read, truly]) => ({ read, true: truly })),
          validFromMs: beginMs + validFromS * 1000,
        },
        beginMs,
      );
    },
    /** Keeps the rows that changed, through JSON, as a checkpoint does. */
    save() {
      for (const [key, plain] of measurements.dirty()) saved.set(key, JSON.parse(JSON.stringify(plain)));
      return saved;
    },
    /** Goes on from what was saved, the last changes among it. */
    restart() {
      this.load(this.save());
    },
    /** Goes on from rows of a version. */
    load(rows: ReadonlyMap<string, unknown>, fromVersion = 2) {
      measurements = new Measurements();
      measurements.useLine(line);
      measurements.load(rows, fromVersion);
    },
  };
}
