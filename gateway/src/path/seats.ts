import type { AnyStage, PathEvent, StageContext } from "./stage.ts";

type Handler = (event: PathEvent, ctx: StageContext) => void;

/** A stage in its place of the path, with what waits for it in the step. */
export interface Seat {
  readonly stage: AnyStage;
  readonly ctx: StageContext;
  /** Events that wait, with what hears each of them, and how many were heard. */
  readonly inbox: PathEvent[];
  readonly handlers: Handler[];
  heard: number;
  /** It did something in this step, so that `afterStep` is due. */
  isTouched: boolean;
}

/** A stage that hears a kind of event, by its place. */
interface Hearer {
  readonly index: number;
  readonly handler: Handler;
}

/** Nothing waits any more; what held it is used again. */
function empty(seat: Seat): void {
  seat.inbox.length = 0;
  seat.handlers.length = 0;
  seat.heard = 0;
}

/** The stages of a path in their order: hands events forward to those that hear their kind, and lets them hear. */
export class Seats {
  readonly all: readonly Seat[];
  private readonly hearers = new Map<string, readonly Hearer[]>();

  constructor(stages: readonly AnyStage[], contextFor: (stage: AnyStage, index: number) => StageContext) {
    this.all = stages.map((stage, index) => ({
      stage,
      ctx: contextFor(stage, index),
      inbox: [],
      handlers: [],
      heard: 0,
      isTouched: false,
    }));
    for (const [index, stage] of stages.entries())
      for (const [kind, handler] of Object.entries(stage.hears))
        this.hearers.set(kind, [...(this.hearers.get(kind) ?? []), { index, handler: handler as Handler }]);
  }

  /** Hands an event to the stages behind place `after` that hear its kind. */
  deliver(event: PathEvent, after: number): void {
    const hearers = this.hearers.get(event.kind);
    if (!hearers) return;
    for (const { index, handler } of hearers) {
      if (index <= after) continue;
      const { inbox, handlers } = this.all[index] as Seat;
      inbox.push(event);
      handlers.push(handler);
    }
  }

  /** Lets the stages from `first` on hear what waits for them, in the path's order. */
  drain(first: number): void {
    for (let place = first; place < this.all.length; place += 1) {
      const seat = this.all[place] as Seat;
      const { stage, ctx, inbox, handlers } = seat;
      while (seat.heard < inbox.length) {
        const at = seat.heard;
        seat.heard += 1;
        seat.isTouched = true;
        (handlers[at] as Handler)(inbox[at] as PathEvent, ctx);
      }
      if (seat.isTouched) {
        seat.isTouched = false;
        stage.afterStep?.(ctx);
      }
      if (seat.heard > 0) empty(seat);
    }
  }

  /** The step is over, whatever was not heard. */
  forget(): void {
    for (const seat of this.all) {
      if (seat.inbox.length > 0) empty(seat);
      seat.isTouched = false;
    }
  }
}
