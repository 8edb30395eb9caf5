import type { AnyStage, PathEvent, StageContext } from "./stage.ts";

type Handler = (event: PathEvent, ctx: StageContext) => void;

/** Events of one kind that one stage told one after the other: they are handed on together. Beyond `size` lie old ones. */
interface Run {
  readonly events: PathEvent[];
  size: number;
}

/** A stage in its place of the path, with what waits for it in the step. */
export interface Seat {
  readonly stage: AnyStage;
  readonly ctx: StageContext;
  /** Kept here: no two stages are of one shape, and each step asks many of them. */
  readonly afterStep: ((ctx: StageContext) => void) | null;
  /** Runs of events that wait, with what hears each of them; beyond `waiting` lies what was heard before. */
  readonly inbox: Run[];
  readonly handlers: Handler[];
  waiting: number;
  heard: number;
  /** It did something in this step, so that `afterStep` is due. */
  isTouched: boolean;
}

/** A stage that hears a kind of event. */
interface Hearer {
  readonly index: number;
  readonly seat: Seat;
  readonly handler: Handler;
}

/** Who hears a kind of event: all, and by the place of who tells it those behind. */
interface Hearers {
  readonly all: readonly Hearer[];
  readonly behind: (readonly Hearer[])[];
}

/** Room for so many runs is kept from step to step: to make it anew each time costs as much as to hear them. */
const keptRoom = 256;
/** A run with more events than this gives its room back. */
const keptEvents = 64;

/** Nothing waits any more. */
function empty(seat: Seat): void {
  if (seat.waiting > keptRoom) {
    seat.inbox.length = 0;
    seat.handlers.length = 0;
  }
  seat.waiting = 0;
  seat.heard = 0;
}

function listBehind({ all, behind }: Hearers, after: number): readonly Hearer[] {
  const found = all.filter(({ index }) => index > after);
  behind[after] = found;
  return found;
}

/** The stages of a path in their order: hands events forward to those that hear their kind, and lets them hear. */
export class Seats {
  readonly all: readonly Seat[];
  private readonly hearers = new Map<string, Hearers>();
  /** Runs of this step, and beyond `used` those of earlier ones. */
  private runs: Run[] = [];
  private used = 0;
  /** The run that goes on with the next event of its kind from its stage; null once somebody else told or heard. */
  private open: Run | null = null;
  private openKind = "";
  private openAfter = -1;

  constructor(stages: readonly AnyStage[], contextFor: (stage: AnyStage, index: number) => StageContext) {
    this.all = stages.map((stage, index) => ({
      stage,
      ctx: contextFor(stage, index),
      afterStep: stage.afterStep?.bind(stage) ?? null,
      inbox: [],
      handlers: [],
      waiting: 0,
      heard: 0,
      isTouched: false,
    }));
    for (const [index, seat] of this.all.entries())
      for (const [kind, handler] of Object.entries(seat.stage.hears))
        this.hearers.set(kind, {
          all: [...(this.hearers.get(kind)?.all ?? []), { index, seat, handler: handler as Handler }],
          behind: [],
        });
  }

  /** Hands an event to the stages behind place `after` that hear its kind. */
  deliver(event: PathEvent, after: number): void {
    const { kind } = event;
    if (this.open !== null && after === this.openAfter && kind === this.openKind) {
      const { open } = this;
      open.events[open.size] = event;
      open.size += 1;
      return;
    }
    const hearers = this.hearers.get(kind);
    if (hearers === undefined) return;
    const behind = after < 0 ? hearers.all : (hearers.behind[after] ?? listBehind(hearers, after));
    if (behind.length === 0) return;
    const run = this.newRun(event);
    this.open = run;
    this.openKind = kind;
    this.openAfter = after;
    for (let at = 0; at < behind.length; at += 1) {
      const { seat, handler } = behind[at] as Hearer;
      const place = seat.waiting;
      seat.inbox[place] = run;
      seat.handlers[place] = handler;
      seat.waiting = place + 1;
    }
  }

  private newRun(event: PathEvent): Run {
    let run = this.runs[this.used];
    if (run === undefined) {
      run = { events: [], size: 0 };
      this.runs[this.used] = run;
    } else if (run.events.length > keptEvents) run.events.length = 0;
    this.used += 1;
    // Written over, not emptied: a list that is emptied asks for new room with its next event.
    run.events[0] = event;
    run.size = 1;
    return run;
  }

  /** Lets the stages from `first` on hear what waits for them, in the path's order. */
  drain(first: number): void {
    for (let place = first; place < this.all.length; place += 1) {
      const seat = this.all[place] as Seat;
      if (seat.waiting === 0 && !seat.isTouched) continue;
      // What this one hears is told to the end: a run goes on only while nobody has begun to hear it.
      this.open = null;
      const { afterStep, ctx, inbox, handlers } = seat;
      while (seat.heard < seat.waiting) {
        const run = inbox[seat.heard] as Run;
        const handler = handlers[seat.heard] as Handler;
        seat.heard += 1;
        seat.isTouched = true;
        const { events, size } = run;
        for (let at = 0; at < size; at += 1) handler(events[at] as PathEvent, ctx);
      }
      seat.isTouched = false;
      if (afterStep !== null) afterStep(ctx);
      if (seat.waiting > 0) empty(seat);
    }
    // One entry may bring many steps: each begins with the same room.
    if (first === 0) this.letGo();
  }

  /** The step is over, whatever was not heard. */
  forget(): void {
    for (const seat of this.all) {
      if (seat.waiting > 0) empty(seat);
      seat.isTouched = false;
    }
    this.letGo();
  }

  /** No run of the step is heard any more. */
  private letGo(): void {
    if (this.used > keptRoom) this.runs = [];
    this.used = 0;
    this.open = null;
  }
}
