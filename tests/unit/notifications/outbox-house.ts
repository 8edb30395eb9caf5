import { DatabaseSync } from "node:sqlite";
import type { AlarmChange, Attention } from "@drumlin/gateway/alarms";
import {
  type CallPolicy,
  type Delivery,
  Dispatcher,
  type Moment,
  migrations,
  Outbox,
  type OutboxMessage,
  type Recipient,
} from "@drumlin/gateway/notifications";
import { AlarmLife } from "./alarm-life.ts";

export const minute = 60_000;
export const beginMs = Date.parse("2026-03-02T00:00:00Z");
const policy: CallPolicy = {
  wake: { againMs: 5 * minute, secondAfterMs: 10 * minute },
  tell: { againMs: 60 * minute },
  todayAtMinute: 450,
  gatherMs: 20_000,
};
export const mara: Recipient = {
  id: "mara",
  who: "mara",
  takes: "today",
  turn: "first",
  gathers: true,
  quiet: { fromMinute: 22 * 60, toMinute: 6 * 60 },
  sinceMs: beginMs,
};

interface HouseSettings {
  readonly recipients?: () => readonly Recipient[] | null;
  readonly answer?: (message: OutboxMessage) => Delivery;
  readonly changes?: readonly AlarmChange[];
  readonly moment?: (nowMs: number) => Moment;
  readonly fromMs?: number;
  readonly maxWaiting?: number;
}

/** An outbox with what goes round it, on a clock of its own. */
export function houseOf(
  attentions: readonly Attention[],
  {
    recipients = () => [mara],
    answer = () => ({ delivered: true }),
    changes,
    moment,
    fromMs = beginMs,
    maxWaiting,
  }: HouseSettings = {},
) {
  const database = new DatabaseSync(":memory:");
  for (const migration of migrations) database.exec(migration as string);
  const life = new AlarmLife(attentions);
  const told: string[] = [];
  let nowMs = fromMs;
  const utc = (ms: number): Moment => ({
    nowMs: ms,
    minute: Math.floor(((ms - beginMs) / minute) % 1440),
    date: new Date(ms).toISOString().slice(0, 10),
  });
  const open = () => {
    const outbox = new Outbox(database, maxWaiting);
    const dispatcher = new Dispatcher({
      outbox,
      policy: () => policy,
      recipients,
      changesAfter: (seq, limit) =>
        (changes ?? life.changes).filter(({ id }) => Number.parseInt(id, 10) > seq).slice(0, limit),
      moment: () => (moment ?? utc)(nowMs),
      titleOf: ({ entries }) => `${entries.length}`,
      send: async (message) => {
        const clock = new Date(nowMs).toISOString().slice(11, 16);
        const steps = message.entries.map(({ step, call }) => `${step} ${call.split("/")[1]}`);
        told.push(`${clock} ${message.destination}: ${steps.join(", ")}`);
        return answer(message);
      },
      random: () => 0.5,
      log: () => {},
    });
    return { outbox, dispatcher };
  };
  let opened = open();
  return {
    life,
    told,
    get outbox() {
      return opened.outbox;
    },
    get dispatcher() {
      return opened.dispatcher;
    },
    now: () => nowMs,
    /** The gateway ends, and starts again on the same file. */
    restart() {
      opened.dispatcher.stop();
      opened = open();
    },
    /** The clock jumps, and nobody looks meanwhile. */
    jump(ms: number) {
      nowMs += ms;
    },
    async passMinutes(minutes: number) {
      for (const endMs = nowMs + minutes * minute; nowMs < endMs; ) {
        nowMs = Math.min(endMs, nowMs + minute);
        opened.dispatcher.turn();
        await opened.dispatcher.idle();
      }
    },
    async at(clock: string) {
      const [hours, minutes] = clock.split(":").map(Number) as [number, number];
      await this.passMinutes((beginMs + (hours * 60 + minutes) * minute - nowMs) / minute);
    },
    async turn() {
      opened.dispatcher.turn();
      await opened.dispatcher.idle();
    },
  };
}
