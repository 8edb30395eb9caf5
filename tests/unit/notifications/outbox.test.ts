import { DatabaseSync } from "node:sqlite";
import type { AlarmChange, Attention } from "@drumlin/gateway/alarms";
import {
  type CallPolicy,
  type Delivery,
  Dispatcher,
  migrations,
  Outbox,
  type OutboxMessage,
  type Recipient,
} from "@drumlin/gateway/notifications";
import { describe, expect, it } from "vitest";
import { AlarmLife } from "./alarm-life.ts";

const minute = 60_000;
const beginMs = Date.parse("2026-03-02T00:00:00Z");
const policy: CallPolicy = {
  wake: { againMs: 5 * minute, secondAfterMs: 10 * minute },
  tell: { againMs: 60 * minute },
  todayAtMinute: 450,
  gatherMs: 20_000,
};
const mara: Recipient = {
  id: "mara",
  who: "mara",
  takes: "today",
  turn: "first",
  gathers: true,
  quiet: { fromMinute: 22 * 60, toMinute: 6 * 60 },
  sinceMs: beginMs,
};

function houseOf(
  attentions: readonly Attention[],
  {
    recipients = [mara],
    answer = () => ({ delivered: true }),
    changes,
  }: {
    readonly recipients?: readonly Recipient[];
    readonly answer?: (message: OutboxMessage) => Delivery;
    readonly changes?: readonly AlarmChange[];
  } = {},
) {
  const database = new DatabaseSync(":memory:");
  for (const migration of migrations) database.exec(migration as string);
  const life = new AlarmLife(attentions);
  const told: string[] = [];
  let nowMs = beginMs;
  const outbox = new Outbox(database);
  const dispatcher = new Dispatcher({
    outbox,
    policy: () => policy,
    recipients: () => recipients,
    changesAfter: (seq, limit) =>
      (changes ?? life.changes).filter(({ id }) => Number.parseInt(id, 10) > seq).slice(0, limit),
    moment: () => ({
      nowMs,
      minute: Math.floor(((nowMs - beginMs) / minute) % 1440),
      date: new Date(nowMs).toISOString().slice(0, 10),
    }),
    titleOf: () => "",
    send: async (message) => {
      const clock = new Date(nowMs).toISOString().slice(11, 16);
      const steps = message.entries.map(({ step, call }) => `${step} ${call.split("/")[1]}`);
      told.push(`${clock} ${message.destination}: ${steps.join(", ")}`);
      return answer(message);
    },
    random: () => 0.5,
    log: () => {},
  });
  return {
    life,
    told,
    outbox,
    dispatcher,
    now: () => nowMs,
    async at(clock: string) {
      const [hours, minutes] = clock.split(":").map(Number) as [number, number];
      for (const endMs = beginMs + (hours * 60 + minutes) * minute; nowMs < endMs; ) {
        nowMs = Math.min(endMs, nowMs + minute);
        dispatcher.turn();
        await dispatcher.idle();
      }
    },
    async turn() {
      dispatcher.turn();
      await dispatcher.idle();
    },
  };
}

describe("who is told what, and when", () => {
  it("leaves what doesn't wake to the end of the quiet hours, and what is for today to the morning list", async () => {
    const house = houseOf(["wake", "tell", "today"]);
    await house.at("02:00");
    for (const index of [0, 1, 2]) house.life.do("raise", index, house.now());
    await house.turn();
    await house.at("02:04");
    house.life.do("see", 0, house.now());
    await house.at("08:00");
    expect(house.told).toEqual([
      "02:00 mara: call test:a0",
      "02:05 mara: seen test:a0",
      "06:00 mara: call test:a1",
      "07:00 mara: again test:a1",
      "07:30 mara: today test:a2",
    ]);
  });

  it("makes one message of a burst, and goes on beyond a page of changes of one entry", async () => {
    const count = 5000;
    const single = new AlarmLife(["tell"]);
    single.do("raise", 0, beginMs);
    const [model] = single.changes as [AlarmChange];
    const changes = Array.from({ length: count }, (_, index): AlarmChange => {
      const key = `test:b${index}`;
      return { ...model, id: `7/${key}/1`, alarm: { ...model.alarm, key } };
    });
    const sizes: number[] = [];
    const house = houseOf([], {
      changes,
      recipients: [{ ...mara, quiet: null }],
      answer: ({ entries }) => {
        sizes.push(entries.length);
        return { delivered: true };
      },
    });
    await house.turn();
    expect(sizes).toEqual([count]);
  });

  it("does not tell the end of what never arrived", async () => {
    const house = houseOf(["wake"], {
      answer: () => ({ delivered: false, forGood: true, why: "no such mailbox" }),
    });
    await house.at("00:10");
    house.life.do("raise", 0, house.now());
    await house.turn();
    house.life.do("return", 0, house.now());
    await house.at("01:00");
    expect(house.told).toEqual(["00:10 mara: call test:a0"]);
    expect(house.dispatcher.isFailing("mara")).toBe(true);
    expect(house.outbox.messages(0, 10)).toMatchObject([{ state: "dropped", error: "no such mailbox" }]);
  });

  it("gives up after a day of tries", async () => {
    const house = houseOf(["tell"], {
      recipients: [{ ...mara, quiet: null }],
      answer: () => ({ delivered: false, forGood: false, why: "nobody answers" }),
    });
    house.life.do("raise", 0, house.now());
    await house.at("23:50");
    expect(house.outbox.waitingFor("mara")).toBe(1);
    const tries = house.told.length;
    // 15 s doubled up to half an hour: some 50 tries in a day.
    expect(tries).toBeGreaterThan(45);
    expect(tries).toBeLessThan(60);
    house.life.do("see", 0, house.now());
    await house.at("24:40");
    expect(house.outbox.waitingFor("mara")).toBe(0);
    expect(house.outbox.messages(0, 10)).toMatchObject([{ state: "dropped", tries: house.told.length }]);
  });

  it("tells nothing to a destination of what called before it was there", async () => {
    const house = houseOf(["wake"], { recipients: [{ ...mara, sinceMs: beginMs + minute }] });
    house.life.do("raise", 0, house.now());
    await house.at("00:30");
    expect(house.told).toEqual([]);
  });
});
