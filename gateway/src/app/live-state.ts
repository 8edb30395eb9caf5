import type { DrumWater, Fill, Learned, RunState } from "../fills/index.ts";
import type { LineView, NodeView, PointView, Quantity, Told } from "../http/index.ts";
import { alarmChangeView, fillView, iso as isoOf } from "../http/index.ts";
import {
  type Drum,
  drumOf,
  inOwnUnit,
  type Line,
  type MeasuredQuantity,
  type Point,
  quantityUnits,
  type Subject,
} from "../line/index.ts";
import { createFreshness, type Measurement, seriesOf, type Unassigned } from "../measurements/index.ts";
import { solidsOfKappa25 } from "../water/index.ts";
import type { Calendar } from "./calendar.ts";
import { type DrumFacts, drumView } from "./drum-view.ts";
import { changeTurned, fillTurned } from "./in-calendar.ts";
import type { Outcome } from "./pipeline.ts";

const mostListeners = 500;
const mostNodes = 2000;

interface NodeState {
  online: boolean | null;
  firmware: string | null;
  lastSeenMs: number | null;
  startedAtMs: number | null;
  packs: number;
  gaps: number;
  repeats: number;
  rejected: number;
  readonly unassigned: Map<string, Unassigned>;
}

const seriesName = (kind: string, id: string, quantity: string) => `${kind}/${id}/${quantity}`;

/** The line as it is now, folded from what the path gives; the source of `GET /api/line` and of the stream. */
export function createLiveState({
  engineMs: now,
  calendar,
  simulated,
  learned,
}: {
  /** Engine time: how old something is goes by it. What is shown carries the calendar's. */
  readonly engineMs: () => number;
  readonly calendar: Calendar;
  readonly simulated: boolean;
  readonly learned: (drum: string) => Learned;
}) {
  const iso: DrumFacts["iso"] = (ms) => isoOf(ms === null ? null : calendar.at(ms)) as never;
  let line: Line | null = null;
  const latest = new Map<string, Measurement>();
  const runs = new Map<string, RunState>();
  const fills = new Map<string, Fill>();
  const waters = new Map<string, DrumWater>();
  const changedAtMs = new Map<string, number>();
  const contacts = new Map<string, number>();
  const nodes = new Map<string, NodeState>();
  const freshness = createFreshness();
  const isCurrent = (measurement: Measurement) =>
    now() < measurement.tMs + freshness.lifeMs(measurement.channel);
  /** What each conductivity channel of the line said last, uS/cm, before calibration. */
  const said = new Map<string, number>();
  const rawContacts = new Map<string, boolean>();
  const listeners = new Set<(told: Told, seq: number) => void>();
  /** What can be told of each place, made once for each line. */
  let ofPoints = new Map<string, Told>();
  let ofDrums = new Map<string, Told>();
  let told = 0;

  function quantityView(kind: "point" | "drum", id: string, quantity: MeasuredQuantity): Quantity {
    const found = latest.get(seriesName(kind, id, quantity));
    const unit = quantityUnits[quantity];
    if (!found || !isCurrent(found))
      return { value: null, unit, flag: 9, at: found ? iso(found.tMs) : null, reasons: found ? ["old"] : [] };
    return {
      value: found.value,
      unit,
      flag: found.flag,
      at: iso(found.tMs),
      reasons: [...found.reasons],
      ...(found.estimated ? { estimated: true } : {}),
      ...(found.belowResolution ? { belowResolution: true } : {}),
    };
  }

  /** What was measured of a point or drum, the flow past a point among it. */
  function quantitiesOf(kind: "point" | "drum", id: string): string[] {
    const known = (Object.keys(quantityUnits) as MeasuredQuantity[]).filter(
      (quantity) => quantity !== "state",
    );
    return known.filter(
      (quantity) =>
        latest.has(seriesName(kind, id, quantity)) ||
        (kind === "point" && quantity === "flow" && latest.has(seriesName("flow", id, quantity))),
    );
  }

  function judgedView(point: Point): PointView["judged"] {
    const run = runs.get(point.id);
    if (point.limit25UsPerCm === null) return { now: false, because: "no-limit" };
    if (quantityView("point", point.id, "conductivity25").value === null)
      return { now: false, because: "no-valid-reading" };
    if (!run || run.basis === "none") return { now: true, because: "by-time" };
    if (run.flowing === null) return { now: false, because: "flow-unknown" };
    if (!run.flowing) return { now: false, because: "no-flow" };
    return run.settled ? { now: true, because: null } : { now: false, because: "settling" };
  }

  function pointView(point: Point): PointView {
    const kappa25 = quantityView("point", point.id, "conductivity25");
    const salinity = quantityView("point", point.id, "salinity");
    const run = runs.get(point.id);
    return {
      id: point.id,
      title: point.title,
      conductivity25: kappa25,
      conductivity: quantityView("point", point.id, "conductivity"),
      solids: {
        ...kappa25,
        unit: "mg/L",
        value:
          kappa25.value === null || !line
            ? null
            : solidsOfKappa25(Math.min(70_000, Math.max(0, kappa25.value)), line.solids),
        estimated: true,
      },
      temperature: quantityView("point", point.id, "temperature"),
      ...(salinity.value === null ? {} : { salinity }),
      limit: point.limit25UsPerCm,
      judged: judgedView(point),
      run: {
        flowing: run?.flowing ?? null,
        basis: run?.basis ?? "none",
        since: iso(run?.flowing ? run.startedAtMs : (run?.endedAtMs ?? null)),
        litres: run?.litres ?? null,
        flow: run?.flowLPerMin ?? null,
        settled: run?.settled ?? null,
      },
      hasProbe: point.conductivity !== null,
      quantities: quantitiesOf("point", point.id),
      probe:
        point.conductivity === null
          ? null
          : { channel: point.conductivity, said: said.get(point.conductivity) ?? null },
    };
  }

  /** By the drum's own meter, else by the run at the point that feeds it alone. */
  function flowInto(drum: Drum): number | null {
    const own = latest.get(`drum/${drum.id}/flow`);
    if (own && isCurrent(own)) return own.value;
    const alone = (line?.drums ?? []).every((other) => other.id === drum.id || other.fedBy !== drum.fedBy);
    return alone ? (runs.get(drum.fedBy)?.flowLPerMin ?? null) : null;
  }

  function inflowKnown(drum: Drum): boolean {
    const run = runs.get(drum.fedBy);
    if (run && run.flowing === false) return true;
    const own = [`drum/${drum.id}/flow`, `drum/${drum.id}/volume`, `inlet/${drum.id}/state`];
    const heard = own.some((series) => {
      const found = latest.get(series);
      return found !== undefined && found.value !== null && isCurrent(found);
    });
    return (
      heard ||
      (run?.flowing === true && (line?.drums ?? []).filter(({ fedBy }) => fedBy === drum.fedBy).length === 1)
    );
  }

  function viewOfDrum(drum: Drum) {
    return drumView(drum, {
      volume: quantityView("drum", drum.id, "volume"),
      fill: fills.get(drum.id) ?? null,
      water: waters.get(drum.id) ?? null,
      learned: learned(drum.id),
      flowLPerMin: flowInto(drum),
      inflowKnown: inflowKnown(drum),
      quantities: quantitiesOf("drum", drum.id),
      disinfected: line?.disinfectant !== "none",
      nowMs: now(),
      iso,
      fillView: (fill) => fillView(fillTurned(fill, calendar.at)),
      float: (id) => latest.get(`float/${id}/state`) ?? null,
      changedAtMs: (id) => changedAtMs.get(id) ?? null,
      isCurrent,
    });
  }

  function nodeView([id, node]: readonly [string, NodeState]): NodeView {
    return {
      id,
      online: node.online,
      firmware: node.firmware,
      lastSeen: iso(node.lastSeenMs),
      startedAt: iso(node.startedAtMs),
      packs: node.packs,
      gaps: node.gaps,
      repeats: node.repeats,
      rejected: node.rejected,
      unassigned: [...node.unassigned.values()].map(({ channel, value, unit, tMs }) => ({
        channel,
        value,
        unit,
        at: iso(tMs),
      })),
    };
  }

  function nodeState(id: string): NodeState {
    let node = nodes.get(id);
    if (!node) {
      node = {
        online: null,
        firmware: null,
        lastSeenMs: null,
        startedAtMs: null,
        packs: 0,
        gaps: 0,
        repeats: 0,
        rejected: 0,
        unassigned: new Map(),
      };
      nodes.set(id, node);
    }
    return node;
  }

  function tell(what: Told, seq: number): void {
    told += 1;
    for (const listener of listeners) listener(what, seq);
  }

  function takeLine(next: Line): void {
    line = next;
    ofPoints = new Map(
      next.points.map((point) => [
        point.id,
        { key: `point/${point.id}`, view: () => ({ event: "point", data: pointView(point) }) },
      ]),
    );
    ofDrums = new Map(
      next.drums.map((drum) => [
        drum.id,
        { key: `drum/${drum.id}`, view: () => ({ event: "drum", data: viewOfDrum(drum) }) },
      ]),
    );
  }

  function tellNode(id: string, seq: number): void {
    if (listeners.size === 0) return;
    tell({ key: `node/${id}`, view: () => ({ event: "node", data: nodeView([id, nodeState(id)]) }) }, seq);
  }

  function stageRemoval(from: string, to: string): number | null {
    const feed = quantityView("point", from, "conductivity25").value;
    const out = quantityView("point", to, "conductivity25").value;
    return feed && out !== null ? Math.max(0, 1 - out / feed) : null;
  }

  function lineView(): LineView | null {
    if (!line) return null;
    return {
      site: line.site,
      title: line.title,
      simulated,
      now: iso(now()),
      points: line.points.map(pointView),
      stages: line.stages.map(({ id, title, kind, from, to }) => ({
        id,
        title,
        kind,
        from,
        to,
        removal: stageRemoval(from, to),
      })),
      drums: line.drums.map(viewOfDrum),
      nodes: [...nodes].map(nodeView),
    };
  }

  function tellSubject(subject: Subject, seq: number): void {
    if (listeners.size === 0) return;
    const { kind, id } = subject;
    const drum = drumOf(subject);
    const what =
      kind === "point" || kind === "flow" ? ofPoints.get(id) : drum === null ? undefined : ofDrums.get(drum);
    if (what) tell(what, seq);
  }

  function takeMeasurement(measurement: Measurement, seq: number): void {
    const series = seriesOf(measurement);
    const before = latest.get(series);
    if (before && measurement.tMs < before.tMs) return;
    // The start of a node is no change of its contacts, and the first word of a contact neither.
    if (measurement.quantity === "state" && measurement.value !== null) {
      const state = contacts.get(measurement.subject.id);
      if (state !== undefined && state !== measurement.value)
        changedAtMs.set(measurement.subject.id, measurement.tMs);
      contacts.set(measurement.subject.id, measurement.value);
    }
    latest.set(series, measurement);
    tellSubject(measurement.subject, seq);
  }

  return {
    /** Takes what came out of the path. */
    take(outcome: Outcome, seq: number): void {
      switch (outcome.kind) {
        case "line": {
          takeLine(outcome.line);
          for (const { unassigned } of nodes.values())
            for (const channel of unassigned.keys())
              if (Object.hasOwn(outcome.line.channels, channel)) unassigned.delete(channel);
          const view = lineView();
          if (view) tell({ key: null, view: () => ({ event: "line", data: view }) }, seq);
          return;
        }
        case "measurement":
          takeMeasurement(outcome, seq);
          return;
        case "unassigned":
          nodeState(outcome.channel.split("/")[0] ?? "").unassigned.set(outcome.channel, outcome);
          tellNode(outcome.channel.split("/")[0] ?? "", seq);
          return;
        case "gone":
          // The page must not go on showing what nobody measures any more.
          tellSubject(outcome.subject, seq);
          return;
        case "run":
          runs.set(outcome.point, outcome);
          tellSubject({ kind: "point", id: outcome.point }, seq);
          return;
        case "pack": {
          const node = nodeState(outcome.node);
          node.packs += 1;
          node.gaps += outcome.gap;
          if (outcome.repeat) node.repeats += 1;
          node.lastSeenMs = outcome.receivedAtMs;
          if (outcome.offsetMs !== null) node.startedAtMs = outcome.offsetMs;
          node.online ??= true;
          tellNode(outcome.node, seq);
          return;
        }
        case "presence": {
          freshness.presence(outcome);
          const node = nodeState(outcome.node);
          node.online = outcome.online;
          node.firmware = outcome.firmware ?? node.firmware;
          tellNode(outcome.node, seq);
          return;
        }
        case "rejection":
          if (outcome.node !== null && nodes.size < mostNodes) {
            nodeState(outcome.node).rejected += 1;
            tellNode(outcome.node, seq);
          }
          return;
        case "fill":
          fills.set(outcome.drum, outcome);
          tell(
            {
              key: `fill/${outcome.id}`,
              view: () => ({ event: "fill", data: fillView(fillTurned(outcome, calendar.at)) }),
            },
            seq,
          );
          tellSubject({ kind: "drum", id: outcome.drum }, seq);
          return;
        case "drum-water":
          waters.set(outcome.drum, outcome);
          tellSubject({ kind: "drum", id: outcome.drum }, seq);
          return;
        case "alarm":
          tell(
            {
              key: null,
              view: () => ({ event: "alarm", data: alarmChangeView(changeTurned(outcome, calendar.at)) }),
            },
            seq,
          );
          return;
        case "reading": {
          // A node of another protocol sends no packs, and is heard all the same.
          nodeState(outcome.node).lastSeenMs = outcome.receivedAtMs;
          const use = line?.channels[outcome.channel];
          const value =
            use?.signal === "conductivity" ? inOwnUnit("conductivity", outcome.value, outcome.unit) : null;
          if (value !== null) said.set(outcome.channel, value);
          if (use?.signal === "contact") rawContacts.set(outcome.channel, outcome.value === 1);
          return;
        }
        case "act-done":
          return;
      }
    },
    /** After a start from a checkpoint: the line in force and what the store still knows. */
    useLine: takeLine,
    rawContact: (channel: string): boolean | null => rawContacts.get(channel) ?? null,
    lineView,
    line: (): Line | null => line,
    told: (): number => told,
    subscribe(listener: (told: Told, seq: number) => void): () => void {
      if (listeners.size < mostListeners) listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
