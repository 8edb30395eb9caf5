import { compileLine, type Line } from "../line/index.ts";
import type { CurrentMeasurement } from "../measurements/index.ts";
import { actsOf, type Records, type Stage, type StageContext, type StateRow } from "../path/index.ts";
import type { ActEntry } from "../readings/index.ts";
import { say } from "../words/index.ts";
import { type WorkChange, type WorkNow, type WorkSubject, workCell, workKey } from "./work.ts";

type Context = StageContext<WorkChange>;

const maxWorkMs = 8 * 3_600_000;

interface Begun extends Pick<WorkNow, "by" | "untilMs"> {
  /** The button that was pressed. */
  readonly button?: string | null;
}

/** Changes of one subject that are looked at where the state is lost. */
const maxChanges = 100;

/** What acts alone tell: of a logbook that did not write down work of its own yet. Null: it is done. */
function workByActs(records: Records): ReadonlyMap<string, WorkNow | null> {
  const found = new Map<string, WorkNow | null>();
  for (const { atMs, act } of actsOf(records, ["work-on", "work-done"])) {
    const { subject, by } = act;
    const key = workKey(subject);
    if (act.type === "work-done") found.set(key, null);
    else {
      const untilMs = Math.min(act.untilMs, atMs + maxWorkMs);
      found.set(key, { subject, by, sinceMs: found.get(key)?.sinceMs ?? atMs, untilMs, isForgotten: false });
    }
  }
  return found;
}

/** What was written down of work, whoever said so. Null: it is done. */
function workByRecords(changes: readonly WorkChange[]): ReadonlyMap<string, WorkNow | null> {
  const found = new Map<string, WorkNow | null>();
  for (const { subject, by, atMs, untilMs } of changes) {
    const key = workKey(subject);
    const before = found.get(key);
    if (untilMs !== null) {
      const sinceMs = before && !before.isForgotten ? before.sinceMs : atMs;
      found.set(key, { subject, by, sinceMs, untilMs, isForgotten: false });
      // Its time was up, and nobody said that it is done.
    } else {
      const isTimeUp = before && !before.isForgotten && atMs >= before.untilMs;
      found.set(key, isTimeUp ? { ...before, isForgotten: true } : null);
    }
  }
  return found;
}

/** Keeps what somebody works on: said on the page, or by a button; it ends by itself when its time is up. */
class Work {
  private line: Line | null = null;
  /** Whether each button was pressed when last heard: only the press itself means something, and the first word is none. */
  private readonly pressed = new Map<string, boolean>();
  private readonly changed = new Set<string>();
  /** Where it began with records: up to when they tell of each subject. A press of before is in them already. */
  private readonly recordedMs = new Map<string, number>();

  useLine(line: Line): void {
    this.line = line;
  }

  begin(subject: WorkSubject, { by, untilMs, button = null }: Begun, ctx: Context): void {
    const key = workKey(subject);
    const until = Math.min(untilMs, ctx.nowMs + maxWorkMs);
    const before = ctx.get(workCell, key);
    const sinceMs = before && !before.isForgotten ? before.sinceMs : ctx.nowMs;
    ctx.put(workCell, key, { subject, by, sinceMs, untilMs: until, isForgotten: false });
    ctx.wakeAt(key, until);
    ctx.tell({ kind: "work", atMs: ctx.nowMs, subject, by, button, untilMs: until });
  }

  end(subject: WorkSubject, { by, button = null }: Pick<Begun, "by" | "button">, ctx: Context): void {
    const key = workKey(subject);
    ctx.put(workCell, key, undefined);
    ctx.wakeAt(key, null);
    ctx.tell({ kind: "work", atMs: ctx.nowMs, subject, by, button, untilMs: null });
  }

  due(key: string, ctx: Context): void {
    const work = ctx.get(workCell, key);
    if (!work || work.isForgotten) return;
    ctx.put(workCell, key, { ...work, isForgotten: true });
    const { subject, by } = work;
    ctx.tell({ kind: "work", atMs: ctx.nowMs, subject, by, button: null, untilMs: null });
  }

  /** A press begins the button's work, or ends it while it goes on. */
  hear({ measurement: { subject, value, flag } }: CurrentMeasurement, ctx: Context): void {
    if (subject.kind !== "button" || value === null || flag === 4) return;
    const button = this.line?.buttons.find(({ id }) => id === subject.id);
    if (!button) return;
    const isPressed = (value === 1) === button.pressedWhen;
    const wasPressed = this.pressed.get(button.id);
    if (wasPressed === isPressed) return;
    this.pressed.set(button.id, isPressed);
    this.changed.add(button.id);
    if (!isPressed || wasPressed === undefined || !button.work) return;
    const { subject: on, minutes } = button.work;
    if (ctx.nowMs <= (this.recordedMs.get(workKey(on)) ?? 0)) return;
    const now = ctx.get(workCell, workKey(on));
    const who = { by: `button ${button.id}`, button: button.id };
    if (now && !now.isForgotten) this.end(on, who, ctx);
    else this.begin(on, { ...who, untilMs: ctx.nowMs + minutes * 60_000 }, ctx);
  }

  /** What somebody works on, by page or button, and has not said that it is done. What the board knows is newer. */
  seed(records: Records, ctx: Context): void {
    const known = new Set([...ctx.entries(workCell)].map(([key]) => key));
    const changes = records.list("work", maxChanges) as readonly WorkChange[];
    const open = new Map([...workByActs(records), ...workByRecords(changes)]);
    for (const { subject, atMs } of changes) this.recordedMs.set(workKey(subject), atMs);
    for (const [key, work] of open)
      if (work && !known.has(key) && this.hasSubject(work.subject)) ctx.put(workCell, key, work);
    this.resume(ctx);
  }

  private hasSubject({ kind, id }: WorkSubject): boolean {
    return this.line !== null && compileLine(this.line).has(kind, id);
  }

  *dirty(): Iterable<StateRow> {
    for (const id of this.changed) yield [`button ${id}`, this.pressed.get(id)];
    this.changed.clear();
  }

  load(rows: ReadonlyMap<string, unknown>): void {
    this.pressed.clear();
    for (const [key, isPressed] of rows)
      if (key.startsWith("button ") && typeof isPressed === "boolean")
        this.pressed.set(key.slice(7), isPressed);
  }

  resume(ctx: Context): void {
    for (const [key, { untilMs, isForgotten }] of ctx.entries(workCell))
      if (!isForgotten) ctx.wakeAt(key, untilMs);
  }
}

/** The stage of the path that knows who works on what. */
export function createWorkStage(): Stage<ActEntry | CurrentMeasurement, WorkChange> {
  const work = new Work();
  return {
    name: "work",
    version: 1,
    owns: [workCell],
    reads: [],
    acts: ["work-on", "work-done"],
    hears: {
      act({ act }, ctx) {
        const { by } = act;
        if (act.type === "work-on") work.begin(act.subject, { by, untilMs: act.untilMs }, ctx);
        else if (act.type === "work-done") work.end(act.subject, { by }, ctx);
      },
      current: (event, ctx) => work.hear(event, ctx),
    },
    useLine: (line) => work.useLine(line),
    admit(act, ctx) {
      if (act.type === "work-on" && act.untilMs <= ctx.nowMs)
        return { code: "not-possible-in-state", message: say("work-time-over") };
      if (act.type === "work-done" && !ctx.get(workCell, workKey(act.subject)))
        return { code: "not-possible-in-state", message: say("nobody-works") };
      return null;
    },
    wake: (key, ctx) => work.due(key, ctx),
    // The work itself is in the cell.
    dirty: () => work.dirty(),
    load(rows, _version, ctx) {
      work.load(rows);
      work.resume(ctx);
      return true;
    },
    seed: (records, ctx) => work.seed(records, ctx),
  };
}
