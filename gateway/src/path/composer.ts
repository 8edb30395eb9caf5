import type { Act, ActRefused } from "../acts/index.ts";
import type { Line } from "../line/index.ts";
import { Board } from "./board.ts";
import { Deadlines } from "./deadlines.ts";
import type { ActDone, Emit, LineInForce, PathEntry } from "./outcomes.ts";
import { lastLineOf, type Records } from "./records.ts";
import type { PathChanges, PathRow, PathTurn, SavedPath } from "./saved-rows.ts";
import { type Seat, Seats } from "./seats.ts";
import type { AnyStage, EntryMark, PathEvent } from "./stage.ts";
import { ContextOfStage, type StageTimes } from "./stage-context.ts";

/** What a composer is made of. */
export interface ComposerParts {
  readonly stages: readonly AnyStage[];
  /** Reads a line entry's text; null when this version can't: the old line then stays in force. */
  readonly readLine: (yaml: string) => Line | null;
  /** Whether the line has what an act is about, before any stage is asked; null when it has. */
  readonly unknownSubject?: (act: Act, line: Line | null) => ActRefused | null;
}

/** Name under which the composer keeps its own row, and the board its rows. */
const ownRows = "path";
const boardRows = "board";
const noLine = Symbol("no line");

/**
 * Runs the path: one list of stages over the journal's entries. Events go forward only, to later stages that hear
 * their kind; within a step the stages run in the path's order, each until it has heard everything. The composer owns
 * time, deadlines, cells and rows.
 */
export class Composer {
  readonly board: Board;
  private readonly seats: Seats;
  private readonly deadlines = new Deadlines();
  private readonly parts: ComposerParts;
  private emit: Emit = () => {};
  private readonly times: StageTimes = { engineMs: 0, entry: { seq: 0, receivedAt: 0 } };
  private inForce: Line | null = null;
  private text: string | null = null;
  private stepMs: number | null = null;
  private savedText: string | null | typeof noLine = noLine;
  private isMuted = false;

  constructor(parts: ComposerParts) {
    this.parts = parts;
    this.board = new Board(parts.stages);
    this.seats = new Seats(parts.stages, (stage, index) => this.contextOf(stage, index));
  }

  /** Engine time, epoch ms. */
  get engineMs(): number {
    return this.times.engineMs;
  }

  /** The line in force; null before the first line entry. */
  get line(): Line | null {
    return this.inForce;
  }

  /** The text of the line in force. */
  get yaml(): string | null {
    return this.text;
  }

  /** The earliest deadline, epoch ms; null when there is none. */
  nextDeadline(): number | null {
    return this.deadlines.next()?.atMs ?? null;
  }

  /** Runs the next entry. Deadlines that are due before it pass first. What a stage throws comes out; the step is over then. */
  push(entry: PathEntry, emit: Emit): void {
    this.emit = emit;
    this.times.entry = entry;
    // Begun with records alone, time is as it was at the first entry that is still there.
    if (this.times.engineMs === 0) this.times.engineMs = entry.receivedAt;
    try {
      // Before time goes on: nobody fell silent and nothing settled while the gateway was away.
      if (entry.kind === "start") this.hear(entry);
      this.advance(entry.receivedAt);
      if (entry.kind === "line") this.step(() => this.takeLine(entry.yaml ?? ""));
      else if (entry.kind === "act" && entry.act) this.takeAct(entry, entry.act);
      else if (entry.kind !== "start") this.hear(entry);
    } catch (fault) {
      this.endStep();
      throw fault;
    }
  }

  /** Hands events to the stages that hear them, in a step at `atMs`: how history feeds stored readings. */
  feed(events: readonly PathEvent[], mark: EntryMark, emit: Emit): void {
    this.emit = emit;
    this.times.entry = mark;
    try {
      this.advance(mark.receivedAt);
      this.stepMs = null;
      for (let at = 0; at < events.length; at += 1) {
        const event = events[at] as PathEvent;
        emit(event);
        this.seats.deliver(event, -1);
      }
      this.seats.drain(0);
    } catch (fault) {
      this.endStep();
      throw fault;
    }
  }

  /** Meets every deadline up to `toMs`. */
  pass(toMs: number, emit: Emit): void {
    this.emit = emit;
    try {
      this.advance(toMs);
    } catch (fault) {
      this.endStep();
      throw fault;
    }
  }

  /** Rows that changed since the last call. */
  changes(): PathChanges {
    const turn = this.changesInTurns();
    return { ...turn, rows: [...turn.rows] };
  }

  /** The same, a row at a time; nothing may be run before the last one was asked for. */
  changesInTurns(): PathTurn {
    const versions = Object.fromEntries(this.seats.all.map(({ stage }) => [stage.name, stage.version]));
    return { seq: this.times.entry.seq, versions, rows: this.changedRows() };
  }

  private *changedRows(): Iterable<PathRow> {
    for (const { stage } of this.seats.all)
      for (const [key, plain] of stage.dirty()) yield { stage: stage.name, key, plain };
    for (const [key, plain] of this.board.dirty()) yield { stage: boardRows, key, plain };
    yield { stage: ownRows, key: "engineMs", plain: this.times.engineMs };
    if (this.savedText !== this.text) yield { stage: ownRows, key: "yaml", plain: this.text };
    this.savedText = this.text;
  }

  /**
   * Goes on from a checkpoint: each stage from its rows, or where it can't read them, from the logbook's records.
   * Null: from the records alone. Gives the names of the stages that began with records.
   */
  restore(saved: SavedPath | null, records: Records): readonly string[] {
    const own = saved?.rows.get(ownRows);
    const seeded: string[] = [];
    this.times.entry = { seq: saved?.seq ?? 0, receivedAt: 0 };
    this.times.engineMs = (own?.get("engineMs") as number | undefined) ?? 0;
    const yaml = (own?.get("yaml") ?? lastLineOf(records)) as string | null;
    this.board.load(saved?.rows.get(boardRows) ?? new Map());
    this.isMuted = true;
    try {
      if (yaml !== null) this.putLine(yaml);
      for (const { stage, ctx } of this.seats.all) {
        if (this.inForce) stage.useLine?.(this.inForce, null, ctx);
        const version = saved?.versions.get(stage.name);
        const rows = saved?.rows.get(stage.name) ?? new Map<string, unknown>();
        if (version !== undefined && stage.load(rows, version, ctx)) continue;
        stage.seed?.(records, ctx);
        seeded.push(stage.name);
      }
    } finally {
      this.isMuted = false;
      this.endStep();
    }
    return seeded;
  }

  private contextOf(stage: AnyStage, index: number): ContextOfStage {
    return new ContextOfStage(stage, this.board, this.times, {
      tell: (event) => this.tell(stage, index, event),
      wakeAt: (key, atMs) => this.deadlines.set(index, key, atMs),
    });
  }

  private tell(stage: AnyStage, index: number, event: PathEvent): void {
    if (this.isMuted) return;
    const stepMs = index === 0 && stage.stepMs ? stage.stepMs(event) : null;
    if (stepMs !== null && stepMs !== this.stepMs) {
      if (this.stepMs !== null) this.seats.drain(1);
      this.stepMs = stepMs;
    }
    this.emit(event);
    this.seats.deliver(event, index);
  }

  private step(begin: () => void): void {
    this.stepMs = null;
    begin();
    this.seats.drain(0);
  }

  /** A step of one event from outside. */
  private hear(event: PathEvent): void {
    this.stepMs = null;
    this.seats.deliver(event, -1);
    this.seats.drain(0);
  }

  /** A step that was cut short: nothing of it is heard any more. */
  private endStep(): void {
    this.stepMs = null;
    this.seats.forget();
  }

  private advance(toMs: number): void {
    for (let due = this.deadlines.next(); due !== null && due.atMs <= toMs; due = this.deadlines.next()) {
      this.deadlines.take();
      this.times.engineMs = Math.max(this.times.engineMs, due.atMs);
      const { stage, key } = due;
      const seat = this.seats.all[stage] as Seat;
      this.step(() => {
        seat.isTouched = true;
        seat.stage.wake?.(key, seat.ctx);
      });
      const again = this.deadlines.next();
      if (again?.stage === stage && again.key === key && again.atMs <= due.atMs)
        throw new Error(`${seat.stage.name} asks for its deadline "${key}" again in the past.`);
    }
    this.times.engineMs = Math.max(this.times.engineMs, toMs);
  }

  private putLine(yaml: string): boolean {
    const line = this.parts.readLine(yaml);
    if (!line) return false;
    this.inForce = line;
    this.text = yaml;
    return true;
  }

  private takeLine(yaml: string): void {
    const was = this.inForce;
    // A line entry was checked before it was journaled; one that this version no longer reads leaves the old in force.
    if (!this.putLine(yaml)) return;
    const line = this.inForce as Line;
    const told: LineInForce = {
      kind: "line",
      seq: this.times.entry.seq,
      atMs: this.times.engineMs,
      line,
      yaml,
    };
    this.emit(told);
    for (const seat of this.seats.all) {
      seat.isTouched = true;
      seat.stage.useLine?.(line, was, seat.ctx);
    }
    this.seats.deliver(told, -1);
  }

  private refusalOf(act: Act): ActRefused | null {
    const unknown = this.parts.unknownSubject?.(act, this.inForce) ?? null;
    if (unknown) return unknown;
    for (const { stage, ctx } of this.seats.all) {
      const refused = stage.acts?.includes(act.type) ? (stage.admit?.(act, ctx) ?? null) : null;
      if (refused !== null) return refused;
    }
    return null;
  }

  private takeAct(entry: PathEntry, act: Act): void {
    const refused = this.refusalOf(act);
    if (refused === null) this.hear(entry);
    const done: ActDone = { kind: "act-done", id: `${entry.seq}`, act, atMs: this.times.engineMs, refused };
    this.emit(done);
  }
}
