import type { AlarmChange } from "@drumlin/gateway/alarms";
import { describe, expect, it } from "vitest";
import { AlarmLife } from "./alarm-life.ts";
import { beginMs, houseOf, mara, minute } from "./outbox-house.ts";

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

  it("what was seen by mistake calls again at once, and its reminders go on", async () => {
    const house = houseOf(["wake"]);
    await house.at("02:00");
    house.life.do("raise", 0, house.now());
    await house.turn();
    await house.at("02:04");
    house.life.do("see", 0, house.now());
    await house.at("02:10");
    house.life.do("unsee", 0, house.now());
    await house.turn();
    await house.at("02:16");
    expect(house.told).toEqual([
      "02:00 mara: call test:a0",
      "02:05 mara: seen test:a0",
      "02:10 mara: call test:a0",
      "02:15 mara: again test:a0",
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
      recipients: () => [{ ...mara, quiet: null }],
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
      recipients: () => [{ ...mara, quiet: null }],
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
    const house = houseOf(["wake"], { recipients: () => [{ ...mara, sinceMs: beginMs + minute }] });
    house.life.do("raise", 0, house.now());
    await house.at("00:30");
    expect(house.told).toEqual([]);
  });
});
