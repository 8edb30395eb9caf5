import {
  backFlowCell,
  batchCell,
  chlorineCell,
  fillCell,
  floatCell,
  guardCell,
  learnedCell,
  runCell,
  waterCell,
} from "../fills/index.ts";
import { eventOfRecord, type LineView, type LiveEvent, type Told } from "../http/index.ts";
import { compileLine, drumOf, type Line, nodeOf } from "../line/index.ts";
import { isRecorded, type LogbookOutcome } from "../logbook/index.ts";
import { latestCell, proofCell, saidCell, unassignedCell } from "../measurements/index.ts";
import type { Board, Cell } from "../path/index.ts";
import { nodeCell } from "../readings/index.ts";
import type { Calendar } from "./calendar.ts";
import { outcomeInCalendar } from "./in-calendar.ts";
import type { Outcome } from "./pipeline.ts";
import { lineView, viewOfDrum } from "./views/line-view.ts";
import { nodeView } from "./views/node-view.ts";
import { pointView } from "./views/point-view.ts";
import type { Looking } from "./views/quantity-view.ts";

const maxListeners = 500;
/** Subjects of a cell whose news are kept. */
const maxKnownNews = 50_000;

interface LiveStateNeeds {
  readonly board: Board;
  readonly line: () => Line | null;
  /** Engine time: how old something is goes by it. What is shown carries the calendar's. */
  readonly engineMs: () => number;
  readonly calendar: Calendar;
  readonly simulated: boolean;
}

/** Most that comes out is seen in the cells that it changes, and is no news of its own. */
const isSeenInCells = ({ kind }: Outcome): boolean =>
  kind === "current" || kind === "measurement" || kind === "reading" || kind === "pack";

/** What a change of a cell is shown as: which point, drum or node, the line as a whole, or nothing. */
type Shown = { readonly kind: "point" | "drum" | "node" | "line"; readonly id: string } | null;

const ofLatest = (series: string, line: Line | null): Shown => {
  const subject = line && compileLine(line).seriesNamed.get(series)?.subject;
  if (!subject) return null;
  if (subject.kind === "point" || subject.kind === "flow") return { kind: "point", id: subject.id };
  const drum = drumOf(subject);
  return drum === null ? null : { kind: "drum", id: drum };
};
const ofFloat = (float: string, line: Line | null): Shown => {
  const drum = line && compileLine(line).floats.get(float)?.drum;
  return drum ? { kind: "drum", id: drum.id } : null;
};
const ofChannel = (channel: string, line: Line | null): Shown => {
  const subject = line && compileLine(line).slotOf.get(channel)?.subject;
  return subject?.kind === "point" ? { kind: "point", id: subject.id } : null;
};
const ofDrum = (id: string): Shown => ({ kind: "drum", id });
const ofLine: Shown = { kind: "line", id: "" };
const shownBy = new Map<Cell<unknown>, (subject: string, line: Line | null) => Shown>([
  [latestCell, ofLatest],
  [runCell, (id) => ({ kind: "point", id })],
  [saidCell, ofChannel],
  [fillCell, ofDrum],
  [waterCell, ofDrum],
  [batchCell, ofDrum],
  [chlorineCell, ofDrum],
  [guardCell, ofDrum],
  [learnedCell, ofDrum],
  [backFlowCell, () => ofLine],
  [proofCell, ofFloat],
  [floatCell, ofFloat],
  [nodeCell, (id) => ({ kind: "node", id })],
  [unassignedCell, (channel) => ({ kind: "node", id: nodeOf(channel) })],
]);

/**
 * Views of the board for pages and programs, and the news of what changed. It keeps nothing of its own: a view is a
 * function of the board and the line, made when somebody looks.
 */
export function createLiveState({ board, line, engineMs, calendar, simulated }: LiveStateNeeds) {
  const listeners = new Set<(told: Told, seq: number) => void>();
  let seq = 0;
  const looking = (): Looking => ({ board, nowMs: engineMs(), at: calendar.at });

  function tell(told: Told): void {
    for (const listener of listeners) listener(told, seq);
  }

  function toldOf({ kind, id }: NonNullable<Shown>): Told {
    const about = kind === "line" ? null : { kind, id };
    return { key: `${kind}/${id}`, about, view: () => eventOf({ kind, id }) };
  }

  function eventOf({ kind, id }: NonNullable<Shown>): LiveEvent | null {
    const inForce = line();
    if (!inForce) return null;
    if (kind === "line") return { event: "line", data: lineView(looking(), inForce, simulated) };
    if (kind === "node") {
      const node = nodeView(looking(), inForce, id);
      return node && { event: "node", data: node };
    }
    if (kind === "point") {
      const point = inForce.points.find((one) => one.id === id);
      return point ? { event: "point", data: pointView(looking(), inForce, point) } : null;
    }
    const drum = inForce.drums.find((one) => one.id === id);
    return drum ? { event: "drum", data: viewOfDrum(looking(), inForce, drum) } : null;
  }

  // What a change is shown as is the same until the line changes: made once, not at each measurement.
  const news: (Map<string, Told | null> | undefined)[] = [];
  let newsLine: Line | null = null;
  function newsOf(cell: Cell<unknown>, subject: string): Told | null {
    const inForce = line();
    if (newsLine !== inForce) news.length = 0;
    newsLine = inForce;
    let ofCell = news[cell.number];
    if (ofCell === undefined || ofCell.size >= maxKnownNews) {
      ofCell = new Map();
      news[cell.number] = ofCell;
    }
    let told = ofCell.get(subject);
    if (told === undefined) {
      const shown = shownBy.get(cell)?.(subject, inForce) ?? null;
      told = shown && toldOf(shown);
      ofCell.set(subject, told);
    }
    return told;
  }

  board.onChange((cell, subject) => {
    if (listeners.size === 0) return;
    const told = newsOf(cell, subject);
    if (told) tell(told);
  });

  function viewOfLine(): LineView | null {
    const inForce = line();
    return inForce && lineView(looking(), inForce, simulated);
  }

  return {
    /** Takes what came out of the path, for what is news of its own. */
    take(outcome: Outcome, outcomeSeq: number): void {
      seq = outcomeSeq;
      if (listeners.size === 0 || isSeenInCells(outcome)) return;
      if (outcome.kind === "line" || outcome.kind === "work") {
        const view = viewOfLine();
        if (view) tell({ key: null, about: null, view: () => ({ event: "line", data: view }) });
        return;
      }
      const event = isRecorded(outcome) ? eventOfRecord(outcome.kind) : null;
      if (event)
        tell({
          key: event.key(outcome as LogbookOutcome),
          about: null,
          view: () => event.view(outcomeInCalendar(outcome, calendar.at, null) as LogbookOutcome),
        });
    },
    lineView: viewOfLine,
    subscribe(listener: (told: Told, seq: number) => void): () => void {
      if (listeners.size < maxListeners) listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
