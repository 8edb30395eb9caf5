import { DatabaseSync } from "node:sqlite";
import type { AlarmChange } from "@drumlin/gateway/alarms";
import { readLine } from "@drumlin/gateway/line";
import {
  type Delivery,
  Dispatcher,
  migrations,
  Outbox,
  type OutboxMessage,
  recipientOf,
  siteMoment,
} from "@drumlin/gateway/notifications";
import { createHouse, type House, type Kit, lineOf } from "../drum-house.ts";
import { beginMs, createLineBench } from "../line-bench.ts";

/** Two people, in whose house it is 4 o'clock at the begin; the first sleeps until 6. */
const people = `timezone: UTC
notify:
  page: https://house.example
  mail: { server: 127.0.0.1, from: drumlin@example.org }
  wake: { again: 5 min, second_after: 10 min }
  to:
    mara: { mail: mara@example.org, person: Mara, takes: today, quiet: { from: "22:00", to: "06:00" } }
    jonas: { mail: jonas@example.org, person: Jonas, turn: second, takes: wake }
`;
const turnS = 10;

/** A simulated drum, the path over what its nodes say, and the outbox behind it, on one clock. */
export function calledHouse(kit: Kit, house: House, send?: (message: OutboxMessage) => Promise<Delivery>) {
  const yaml = `${lineOf(kit)}${people}`;
  const bench = createLineBench(yaml);
  const lived = createHouse(kit, house, bench);
  const file = readLine(yaml);
  if (!file.ok) throw new Error(JSON.stringify(file.faults));
  const { notify } = file.line;
  const database = new DatabaseSync(":memory:");
  for (const migration of migrations) database.exec(migration as string);
  const nowMs = () => beginMs + lived.nowS() * 1000;
  const sent: OutboxMessage[] = [];
  const told: string[] = [];
  const deliver =
    send ??
    (async (message: OutboxMessage): Promise<Delivery> => {
      sent.push(message);
      const clock = new Date(nowMs()).toISOString().slice(11, 16);
      for (const { step, call } of message.entries)
        told.push(`${clock} ${message.destination}: ${step} ${call.split("/")[1]}`);
      return { delivered: true };
    });
  const known: AlarmChange[] = [];
  let read = 0;
  /** The alarm journal so far. */
  function changes(): readonly AlarmChange[] {
    for (; read < bench.outcomes.length; read += 1) {
      const one = bench.outcomes[read];
      if (one?.kind === "alarm") known.push(one);
    }
    return known;
  }
  const open = (by: typeof deliver) =>
    new Dispatcher({
      outbox: new Outbox(database),
      policy: () => ({ ...notify, gatherMs: 20_000 }),
      recipients: () => notify.destinations.map((one) => recipientOf(one, beginMs)),
      changesAfter: (seq, limit) =>
        changes()
          .filter(({ id }) => Number.parseInt(id, 10) > seq)
          .slice(0, limit),
      moment: () => ({ nowMs: nowMs(), ...siteMoment(nowMs(), "UTC") }),
      titleOf: () => "",
      send: by,
      random: () => 0.5,
      log: () => {},
    });
  let dispatcher = open(deliver);
  return {
    bench,
    told: told as readonly string[],
    sent: sent as readonly OutboxMessage[],
    /** What stands under a key. */
    alarm: (key: string) => bench.standing().find((one) => one.key === key) ?? null,
    nowS: lived.nowS,
    /** Lives on without anybody looking at messages, as long as asked. */
    water(toS: number, goesOn: () => boolean = () => true): void {
      while (lived.nowS() < toS && goesOn()) lived.live(lived.nowS() + turnS);
    },
    /** Lives on to a time, s, and delivers what is due. */
    async live(toS: number): Promise<void> {
      while (lived.nowS() < toS) {
        lived.live(Math.min(toS, lived.nowS() + turnS));
        await this.turn();
      }
    },
    async turn(): Promise<void> {
      dispatcher.turn();
      await dispatcher.idle();
    },
    /** What is due is decided, and dies with the gateway before anybody knows what became of it. */
    async dieInSending(): Promise<void> {
      dispatcher.stop();
      dispatcher = open(async (message) => {
        sent.push(message);
        return { delivered: true };
      });
      dispatcher.turn();
      dispatcher.stop();
      await dispatcher.idle();
    },
    /** The gateway ends, and starts again on the same files. */
    restart(): void {
      dispatcher.stop();
      bench.restart(lived.nowS());
      dispatcher = open(deliver);
    },
    acknowledge(key: string, by: string): string | null {
      const { occurrence } = this.alarm(key) ?? { occurrence: "" };
      return bench.act({ type: "acknowledge", key, occurrence, by }, lived.nowS());
    },
  };
}
