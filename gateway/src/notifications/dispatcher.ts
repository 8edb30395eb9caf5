import type { AlarmChange } from "../alarms/index.ts";
import { type DueMessage, due, type Moment } from "./due.ts";
import type { Outbox, OutboxMessage } from "./outbox.ts";
import type { CallPolicy, Recipient } from "./policy.ts";
import { type Delivery, isGivenUp, waitMs } from "./retry.ts";
import type { Standing } from "./standings.ts";

/** Tries in a row that failed before it is told on the other ways. */
const failedTries = 3;
/** Changes of alarms that are read at once. */
const pageOf = 2000;

interface DispatcherNeeds {
  readonly outbox: Outbox;
  readonly policy: () => CallPolicy;
  /** Null while nobody knows: no line is in force. */
  readonly recipients: () => readonly Recipient[] | null;
  /** Changes of alarms of entries after `seq`, oldest first, in engine time. */
  readonly changesAfter: (seq: number, limit: number) => readonly AlarmChange[];
  readonly moment: () => Moment;
  readonly titleOf: (message: DueMessage) => string;
  readonly send: (message: OutboxMessage) => Promise<Delivery>;
  readonly random: () => number;
  readonly log: (message: string) => void;
}

/** Follows the alarm journal, makes the messages that are due, and delivers them: one at a time to each destination. */
export class Dispatcher {
  private readonly needs: DispatcherNeeds;
  private readonly underWay = new Map<string, Promise<void>>();
  private isStopped = false;

  constructor(needs: DispatcherNeeds) {
    this.needs = needs;
  }

  /** Takes the alarm journal up to its end. */
  take(): void {
    const { outbox, changesAfter } = this.needs;
    for (let limit = pageOf; ; ) {
      const page = changesAfter(outbox.cursor() ?? 0, limit);
      if (page.length === 0) return;
      const seqOf = ({ id }: AlarmChange) => Number.parseInt(id, 10);
      const last = seqOf(page.at(-1) as AlarmChange);
      const isCut = page.length >= limit;
      // The entry at the end of a full page may have more changes: it is left to the next one.
      const whole = isCut ? page.filter((change) => seqOf(change) < last) : page;
      if (whole.length === 0) limit *= 2;
      else outbox.follow(whole, seqOf(whole.at(-1) as AlarmChange));
      if (!isCut) return;
    }
  }

  /** Makes the messages that are due. */
  decide(): void {
    const { outbox, policy, moment, titleOf } = this.needs;
    const recipients = this.needs.recipients();
    if (!recipients) return;
    const now = moment();
    const messages = due({
      policy: policy(),
      calls: outbox.calls(),
      recipients,
      told: outbox.told,
      now,
    });
    if (messages.length > 0) outbox.put(messages, now.nowMs, titleOf);
  }

  /** Tries what waits and is due; nothing for a destination to which something is under way. */
  deliver(): void {
    const { outbox, moment, titleOf } = this.needs;
    const recipients = this.needs.recipients();
    if (this.isStopped || !recipients) return;
    const { nowMs } = moment();
    this.dropStrangers(recipients, nowMs);
    const waiting = new Set(outbox.waitingDestinations());
    for (const recipient of recipients) {
      const { id } = recipient;
      if (this.underWay.has(id) || !waiting.has(id)) continue;
      const message = outbox.next(recipient, nowMs, titleOf);
      if (!message) continue;
      const done = this.try(message)
        .catch((error: unknown) => this.needs.log(`notifications: ${String(error)}`))
        .finally(() => this.underWay.delete(id));
      this.underWay.set(id, done);
    }
  }

  /** What waits for somebody whom nobody names any more is given up. */
  private dropStrangers(recipients: readonly Recipient[], nowMs: number): void {
    const { outbox } = this.needs;
    const known = new Set(recipients.map(({ id }) => id));
    for (const id of outbox.waitingDestinations()) {
      if (known.has(id) || this.underWay.has(id)) continue;
      const waiting = outbox.waiting(id).flatMap((one) => outbox.message(one.id) ?? []);
      const error = "Nobody names this destination any more.";
      for (const message of waiting)
        outbox.settle(message, { state: "dropped", nowMs, nextMs: nowMs, error });
      outbox.standings.change(id, { dropped: this.standing(id).dropped + waiting.length });
    }
  }

  private async try(message: OutboxMessage): Promise<void> {
    const { outbox, send, moment, random } = this.needs;
    const delivery = await send(message).catch(
      (error: unknown): Delivery => ({
        delivered: false,
        forGood: false,
        why: error instanceof Error ? error.message : String(error),
      }),
    );
    // What became of it after the end is not known here: it is tried again after the next start, with the same id.
    if (this.isStopped) return;
    const { nowMs } = moment();
    const isDropped = isGivenUp(message.madeMs, nowMs, delivery);
    const wait = delivery.delivered
      ? 0
      : Math.max(waitMs(message.tries + 1, message.wakes, random()), delivery.afterMs ?? 0);
    this.note(message.destination, delivery, isDropped, nowMs);
    outbox.settle(message, {
      state: delivery.delivered ? "sent" : isDropped ? "dropped" : "waiting",
      nowMs,
      nextMs: nowMs + wait,
      error: delivery.delivered ? null : delivery.why,
    });
  }

  /** Remembers how a try went: the page shows it. */
  note(destination: string, delivery: Delivery, isDropped: boolean, nowMs: number): void {
    const { standings } = this.needs.outbox;
    const { sent, failedInRow, dropped } = standings.of(destination);
    if (delivery.delivered)
      standings.change(destination, { lastSentMs: nowMs, failedInRow: 0, error: null, sent: sent + 1 });
    else
      standings.change(destination, {
        lastFailedMs: nowMs,
        error: delivery.why,
        failedInRow: failedInRow + (delivery.forGood ? failedTries : 1),
        dropped: dropped + (isDropped ? 1 : 0),
      });
  }

  standing(destination: string): Standing {
    return this.needs.outbox.standings.of(destination);
  }

  /** Whether a destination can't be told anything: three tries in a row, or one that was refused for good. */
  isFailing(destination: string): boolean {
    return this.standing(destination).failedInRow >= failedTries;
  }

  /** One turn of all three. */
  turn(): void {
    this.take();
    this.decide();
    this.deliver();
  }

  /** Resolves when nothing is under way. */
  async idle(): Promise<void> {
    while (this.underWay.size > 0) await Promise.all(this.underWay.values());
  }

  stop(): void {
    this.isStopped = true;
  }
}
