import { DatabaseSync } from "node:sqlite";
import { readLine } from "@drumlin/gateway/line";
import {
  beatsOf,
  type Delivery,
  type Moment,
  migrations,
  type Recipient,
  seenLinksOf,
  siteMoment,
} from "@drumlin/gateway/notifications";
import { describe, expect, it } from "vitest";
import { beginMs, houseOf, mara, minute } from "./outbox-house.ts";

const hour = 60 * minute;
const awake: Recipient = { ...mara, quiet: null };
const down: Delivery = { delivered: false, forGood: false, why: "nobody answers" };
const file = () => {
  const database = new DatabaseSync(":memory:");
  for (const migration of migrations) database.exec(migration as string);
  return database;
};

describe("the outbox, attacked", () => {
  it("gives up what waits for a destination that the line no longer names, and says so", async () => {
    let recipients: readonly Recipient[] | null = [awake];
    const house = houseOf(["wake"], { recipients: () => recipients, answer: () => down });
    house.life.do("raise", 0, house.now());
    await house.turn();
    recipients = null;
    await house.passMinutes(10);
    expect(house.outbox.waitingFor("mara"), "while no line is in force nothing is given up").toBe(1);
    recipients = [];
    await house.turn();
    expect(house.outbox.waitingFor("mara")).toBe(0);
    expect(house.outbox.messages(0, 9)).toMatchObject([
      { state: "dropped", error: expect.stringMatching(/names/) },
    ]);
    expect(house.outbox.standings.totals()).toEqual({ sent: 0, dropped: 1 });
  });

  it("brings a night's backlog as a few messages, with each call in one of them", async () => {
    let isDown = true;
    const house = houseOf(
      Array.from({ length: 40 }, () => "tell" as const),
      {
        recipients: () => [awake],
        answer: () => (isDown ? down : { delivered: true }),
      },
    );
    for (let index = 0; index < 40; index += 1) {
      house.life.do("raise", index, house.now());
      await house.passMinutes(10);
    }
    isDown = false;
    house.told.length = 0;
    await house.passMinutes(45);
    const calls = house.told.flatMap((line) => line.match(/call test:a\d+/g) ?? []);
    expect(new Set(calls).size).toBe(40);
    expect(calls.length).toBe(40);
    expect(house.told.length).toBeLessThan(15);
  });

  it("does not let one message that is always refused hold up the others for longer than its next try", async () => {
    const house = houseOf(["tell", "tell", "wake"], {
      recipients: () => [awake],
      answer: ({ entries }) => (entries[0]?.call.includes("a0") ? down : { delivered: true }),
    });
    house.life.do("raise", 0, house.now());
    await house.passMinutes(40);
    house.life.do("raise", 2, house.now());
    await house.turn();
    expect(house.told.at(-1), "what wakes waits for nothing that does not").toContain("call test:a2");
    house.life.do("raise", 1, house.now());
    await house.passMinutes(31);
    expect(house.told.join("\n")).toContain("call test:a1");
  });

  it("loses nothing and says nothing twice when so much waits that there is no room", async () => {
    const count = 50;
    let isDown = true;
    const house = houseOf(
      Array.from({ length: count }, () => "wake" as const),
      {
        // A sounder gathers nothing: each call is a message.
        recipients: () => [{ ...awake, gathers: false }],
        maxWaiting: 30,
        answer: () => (isDown ? down : { delivered: true }),
      },
    );
    for (let index = 0; index < count; index += 1) {
      house.life.do("raise", index, house.now());
      house.jump(1000);
      await house.turn();
    }
    expect(house.outbox.waitingFor("mara")).toBe(30);
    expect(house.outbox.overfull()).toBe(1);
    isDown = false;
    house.told.length = 0;
    house.jump(3 * minute);
    for (let turns = 0; turns < 80; turns += 1) await house.turn();
    const calls = house.told.flatMap((line) => line.match(/call test:a\d+/g) ?? []);
    expect(new Set(calls).size).toBe(count);
    expect(calls.length).toBe(count);
  });

  it("tells those who were called that somebody silenced it, and a sounder among them", async () => {
    const horn: Recipient = { ...awake, id: "horn", who: null, gathers: false };
    const house = houseOf(["wake"], { recipients: () => [awake, horn] });
    house.life.do("raise", 0, house.now());
    await house.turn();
    house.life.do("shelve", 0, house.now());
    await house.passMinutes(2);
    expect(house.told.slice(2)).toEqual(["00:01 mara: silenced test:a0", "00:01 horn: silenced test:a0"]);
  });

  it("remembers after a restart how each destination stands", async () => {
    const house = houseOf(["tell"], { recipients: () => [awake], answer: () => down });
    house.life.do("raise", 0, house.now());
    await house.passMinutes(5);
    const before = house.dispatcher.standing("mara");
    expect(before).toMatchObject({ error: "nobody answers", lastSentMs: null });
    expect(house.dispatcher.isFailing("mara")).toBe(true);
    house.restart();
    expect(house.dispatcher.standing("mara")).toEqual(before);
    expect(house.dispatcher.isFailing("mara")).toBe(true);
  });

  it("goes on after a restart in the middle of a burst with what was not told, and only that", async () => {
    const count = 300;
    const house = houseOf(
      Array.from({ length: count }, () => "tell" as const),
      { recipients: () => [awake] },
    );
    for (let index = 0; index < count; index += 1) {
      house.life.do("raise", index, house.now());
      if (index === 100) await house.turn();
      if (index === 200) {
        house.dispatcher.take();
        house.dispatcher.decide();
        house.restart();
      }
    }
    await house.passMinutes(2);
    const calls = house.told.flatMap((line) => line.match(/call test:a\d+/g) ?? []);
    expect(calls.length).toBe(count);
    expect(new Set(calls).size).toBe(count);
    expect(house.told.length).toBe(2);
  });

  it("makes one message of what was missed while the clock jumped three days", async () => {
    const house = houseOf(["wake"], { recipients: () => [awake] });
    house.life.do("raise", 0, house.now());
    await house.turn();
    house.jump(3 * 24 * hour);
    await house.turn();
    await house.turn();
    expect(house.told).toEqual(["00:00 mara: call test:a0", "00:00 mara: again test:a0"]);
  });
});

describe("the hours of a house over a change of its clocks", () => {
  const zone = "Europe/London";
  const moment = (nowMs: number): Moment => ({ nowMs, ...siteMoment(nowMs, zone) });
  /** What is told of one alarm raised each at the given times, UTC. */
  async function night(fromUtc: string, quiet: Recipient["quiet"], hours: number) {
    const fromMs = Date.parse(fromUtc);
    const person = { ...awake, quiet, sinceMs: fromMs };
    const house = houseOf(["tell", "today"], { fromMs, recipients: () => [person], moment });
    house.life.do("raise", 0, house.now());
    house.life.do("raise", 1, house.now());
    await house.passMinutes(hours * 60);
    return house.told;
  }

  // The clocks of Europe/London go from 01:00 to 02:00 UTC+1 on 29 March, and back on 25 October 2026 (IANA tz).
  it("in spring: quiet ends with an hour that does not exist, and the list comes once", async () => {
    const quiet = { fromMinute: 22 * 60, toMinute: 90 };
    expect(await night("2026-03-28T23:00:00Z", quiet, 12)).toEqual([
      "01:00 mara: call test:a0",
      "02:00 mara: again test:a0",
      "06:30 mara: today test:a1",
    ]);
  });
  it("in autumn: quiet lasts through the hour that comes twice, and the list comes once", async () => {
    const quiet = { fromMinute: 22 * 60, toMinute: 120 };
    expect(await night("2026-10-24T22:00:00Z", quiet, 26)).toEqual([
      "02:00 mara: call test:a0",
      "03:00 mara: again test:a0",
      "07:30 mara: today test:a1",
    ]);
  });
});

describe("heartbeats of others", () => {
  const minutely = { id: "copies", title: "Copies", everyMs: minute };

  it("are not missed while nobody could hear them, and are after that", () => {
    const database = file();
    beatsOf(database).heard("copies", beginMs);
    const nowMs = beginMs + 5 * hour;
    const after = beatsOf(database);
    expect(after.isAway(minutely, nowMs)).toBe(false);
    let atMs = nowMs;
    while (!after.isAway(minutely, atMs) && atMs < nowMs + hour) atMs += 1000;
    expect(atMs - nowMs).toBe(97_000);
    after.heard("copies", atMs);
    expect(after.isAway(minutely, atMs + 1000)).toBe(false);
  });

  it("that are daily are told within a quarter of an hour of a start, not put off by each start", () => {
    const database = file();
    const daily = { ...minutely, everyMs: 24 * hour };
    beatsOf(database).heard("copies", beginMs);
    const beats = beatsOf(database);
    const fromMs = beginMs + 40 * hour;
    const times = Array.from({ length: 20 }, (_, index) => fromMs + index * minute);
    expect(times.findIndex((ms) => beats.isAway(daily, ms))).toBe(16);
  });
});

describe("links that mark an alarm as seen", () => {
  const link = { who: "Mara", key: "floor-wet:press-room", occurrence: "7/floor-wet:press-room/1" };

  it("can't be guessed, used by another, used twice, or used late; one that was not taken can be used again", () => {
    const database = file();
    const links = seenLinksOf(database);
    const token = links.make(link, beginMs);
    expect(Buffer.from(token, "base64url").length).toBe(32);
    const near = `${token.slice(0, -1)}${token.endsWith("A") ? "E" : "A"}`;
    expect(links.find(near, "Mara", beginMs)).toBeNull();
    expect(links.find(token, "Jonas", beginMs)).toBeNull();
    // Accounts compare names so as well.
    expect(links.find(token, "mara", beginMs)).toEqual(link);
    expect(links.use(token, beginMs)).toBe(true);
    expect(links.use(token, beginMs)).toBe(false);
    expect(links.find(token, "Mara", beginMs)).toBeNull();
    links.release(token);
    expect(links.find(token, "Mara", beginMs)).toEqual(link);
    expect(links.find(token, "Mara", beginMs + 24 * hour)).toBeNull();
    expect(links.use(token, beginMs + 24 * hour)).toBe(false);
    expect(JSON.stringify(database.prepare("SELECT * FROM link").all())).not.toContain(token);
  });
});

describe("a line file that would send what it must not", () => {
  const read = (to: string) =>
    readLine(`drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
notify: { to: { relay: ${to} } }
`);
  it.each(["Host", "Content-Length", "Transfer-Encoding", "connection", "Drumlin-Signature"])(
    "may not set the header %s",
    (header) => {
      const result = read(`{ webhook: { url: "https://relay.example/a", headers: { ${header}: "7" } } }`);
      expect(result.ok).toBe(false);
    },
  );
  it("may not name a destination as a device of a person", () => {
    const result = readLine(`drumlin: 1
site: saltmarsh-house
points: { supply: { conductivity: press/ec-1 } }
notify: { to: { device-7: { mqtt: calls } } }
`);
    expect(result.ok).toBe(false);
  });
  it("may carry a secret's name in an address", () => {
    expect(read(`{ webhook: "https://relay.example/{secret:relay-topic}" }`)).toMatchObject({ ok: true });
  });
});
