import { DatabaseSync } from "node:sqlite";
import type { Attention } from "@drumlin/gateway/alarms";
import {
  type CallPolicy,
  type Delivery,
  Dispatcher,
  migrations,
  Outbox,
  type OutboxMessage,
  type Recipient,
} from "@drumlin/gateway/notifications";
import { AlarmLife } from "./alarm-life.ts";

/** Stretches of time, ms. */
export const second = 1000;
export const minute = 60 * second;
export const hour = 60 * minute;
const beginMs = Date.parse("2026-03-02T00:00:00Z");

const policy: CallPolicy = {
  wake: { againMs: 5 * minute, secondAfterMs: 10 * minute },
  tell: { againMs: hour },
  todayAtMinute: 7 * 60 + 30,
  gatherMs: 20 * second,
};
const plain = { quiet: null, gathers: true, sinceMs: beginMs, who: null } as const;
const recipients: readonly Recipient[] = [
  { ...plain, id: "first", takes: "today", turn: "first" },
  { ...plain, id: "waking", takes: "wake", turn: "first" },
  { ...plain, id: "second", takes: "wake", turn: "second" },
];
/** Of the alarms in the life of the house, in their order. */
export const attentions: readonly Attention[] = ["wake", "tell", "tell", "today", "wake", "record"];

interface Receipt {
  readonly atMs: number;
  readonly message: OutboxMessage;
}

/** The outbox with a gateway round it that dies where it is told to. */
export class House {
  readonly life = new AlarmLife(attentions);
  readonly database = new DatabaseSync(":memory:");
  readonly receipts: Receipt[] = [];
  readonly down = new Set<string>();
  /** Stretches in which a destination was down, or the gateway died. */
  readonly troubles: { readonly id: string; readonly fromMs: number; toMs: number }[] = [];
  readonly twiceAllowed = new Set<string>();
  nowMs = beginMs;
  diesInSend = false;
  runsAgain = false;
  dispatcher: Dispatcher;

  constructor() {
    for (const migration of migrations) this.database.exec(migration as string);
    this.dispatcher = this.gateway();
  }

  gateway(): Dispatcher {
    return new Dispatcher({
      outbox: new Outbox(this.database),
      policy: () => policy,
      recipients: () => recipients,
      // A journal that is run again tells old changes anew, not all of them at once.
      changesAfter: (seq, limit) =>
        this.runsAgain
          ? this.life.changes.slice(0, this.life.changes.length / 2)
          : this.life.changes.filter(({ id }) => Number.parseInt(id, 10) > seq).slice(0, limit),
      moment: () => ({
        nowMs: this.nowMs,
        minute: Math.floor(((this.nowMs - beginMs) / minute) % 1440),
        date: new Date(this.nowMs).toISOString().slice(0, 10),
      }),
      titleOf: () => "title",
      send: (message) => this.take(message),
      random: () => 0.5,
      log: (text) => {
        throw new Error(text);
      },
    });
  }

  private async take(message: OutboxMessage): Promise<Delivery> {
    if (this.down.has(message.destination)) return { delivered: false, forGood: false, why: "down" };
    this.receipts.push({ atMs: this.nowMs, message });
    if (this.diesInSend) {
      this.twiceAllowed.add(message.id);
      this.dispatcher.stop();
    }
    return { delivered: true };
  }

  async turn(): Promise<void> {
    this.dispatcher.turn();
    await this.dispatcher.idle();
  }

  async die(where: "after-take" | "after-decide" | "in-send"): Promise<void> {
    this.dispatcher.take();
    if (where !== "after-take") this.dispatcher.decide();
    if (where === "in-send") {
      this.diesInSend = true;
      this.dispatcher.deliver();
      await this.dispatcher.idle();
      this.diesInSend = false;
    }
    this.dispatcher.stop();
    this.dispatcher = this.gateway();
  }

  async pass(ms: number): Promise<void> {
    const step = ms > 15 * minute ? minute : 30 * second;
    for (const endMs = this.nowMs + ms; this.nowMs < endMs; ) {
      this.nowMs = Math.min(endMs, this.nowMs + step);
      await this.turn();
    }
  }

  turnDown(id: string): void {
    if (this.down.has(id)) return;
    this.down.add(id);
    this.troubles.push({ id, fromMs: this.nowMs, toMs: Number.POSITIVE_INFINITY });
  }
  turnUp(id: string): void {
    this.down.delete(id);
    for (const trouble of this.troubles)
      if (trouble.id === id && trouble.toMs === Number.POSITIVE_INFINITY) trouble.toMs = this.nowMs;
  }

  /** Times at which a destination was told in full of a call. */
  toldInFull(id: string, call: string): readonly number[] {
    const told = this.receipts.filter(
      ({ message }) =>
        message.destination === id &&
        message.entries.some(
          (entry) => entry.call === call && (entry.step === "call" || entry.step === "again"),
        ),
    );
    return [...new Map(told.map(({ message, atMs }) => [message.id, atMs])).values()];
  }
}
