import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { TrueCall } from "./alarm-life.ts";
import { attentions, House, hour, minute, second } from "./dying-house.ts";

const anAlarm = fc.integer({ min: 0, max: attentions.length - 1 });
const op = fc.oneof(
  { weight: 5, arbitrary: fc.tuple(fc.constant("raise" as const), anAlarm) },
  {
    weight: 3,
    arbitrary: fc.tuple(fc.constantFrom("return" as const, "see" as const, "unsee" as const), anAlarm),
  },
  {
    weight: 2,
    arbitrary: fc.tuple(fc.constantFrom("shelve" as const, "unshelve" as const, "rise" as const), anAlarm),
  },
  {
    weight: 5,
    arbitrary: fc.tuple(
      fc.constant("pass" as const),
      fc.constantFrom(second, 5 * second, 30 * second, 4 * minute, 11 * minute, 70 * minute),
    ),
  },
  {
    weight: 2,
    arbitrary: fc.tuple(
      fc.constant("die" as const),
      fc.constantFrom("after-take" as const, "after-decide" as const, "in-send" as const),
    ),
  },
  {
    weight: 2,
    arbitrary: fc.tuple(
      fc.constantFrom("down" as const, "up" as const),
      fc.constantFrom("first", "waking", "second"),
    ),
  },
  { weight: 1, arbitrary: fc.tuple(fc.constant("run-again" as const), fc.constant(0)) },
);
type Op = typeof op extends fc.Arbitrary<infer One> ? One : never;

async function live(house: House, ops: readonly Op[]): Promise<void> {
  for (const [what, with_] of ops) {
    if (what === "pass") await house.pass(with_);
    else if (what === "die") await house.die(with_);
    else if (what === "down") house.turnDown(with_);
    else if (what === "up") house.turnUp(with_);
    else if (what === "run-again") {
      house.runsAgain = true;
      await house.turn();
      house.runsAgain = false;
    } else {
      house.life.do(what, with_ as number, house.nowMs);
      // Sometimes the next thing happens before anybody looks.
      if (house.life.changes.length % 3 !== 0) await house.turn();
    }
  }
  for (const id of ["first", "waking", "second"]) house.turnUp(id);
  await house.turn();
  await house.pass(40 * minute);
}

const doesTell = (id: string, { attention }: TrueCall): boolean =>
  id === "first" ? attention === "wake" || attention === "tell" : attention === "wake";

/** Until when a call asked for somebody; null: it still does. */
const openUntil = ({ endedAtMs, seenAtMs, silencedAtMs, replacedAtMs }: TrueCall, nowMs: number): number =>
  Math.min(...[endedAtMs, seenAtMs, silencedAtMs, replacedAtMs, nowMs].filter((ms) => ms !== null));

function checkOnce({ receipts, twiceAllowed }: House): void {
  const messageOfStep = new Map<string, string>();
  const times = new Map<string, number>();
  for (const { message } of receipts) {
    times.set(message.id, (times.get(message.id) ?? 0) + 1);
    for (const { call, step, number } of message.entries) {
      if (step === "today") continue;
      const name = `${message.destination} ${call} ${step} ${step === "again" ? number : ""}`;
      const first = messageOfStep.get(name) ?? message.id;
      expect(message.id, `${name} told by two messages`).toBe(first);
      messageOfStep.set(name, message.id);
    }
  }
  for (const [id, count] of times) if (!twiceAllowed.has(id)) expect(count, id).toBe(1);
}

function checkTold(house: House, call: TrueCall): void {
  const answeredMs = Math.min(
    call.seenAtMs ?? Number.POSITIVE_INFINITY,
    call.silencedAtMs ?? Number.POSITIVE_INFINITY,
    call.replacedAtMs ?? Number.POSITIVE_INFINITY,
  );
  for (const id of ["first", "waking"]) {
    const told = house.toldInFull(id, call.id);
    if (!doesTell(id, call)) expect(told, `${id} ${call.id}`).toEqual([]);
    // Whoever answers within half a minute knows of it before it was gathered.
    else if (answeredMs - call.atMs > 30 * second) expect(told.length, `${id} ${call.id}`).toBeGreaterThan(0);
    for (const atMs of told) expect(atMs).toBeGreaterThanOrEqual(call.atMs);
    if (call.attention === "tell") expect(told.length).toBeLessThanOrEqual(2);
  }
}

function checkRepeats(house: House, call: TrueCall): void {
  const untilMs = openUntil(call, house.nowMs);
  for (const id of ["first", "waking"]) {
    const told = house.toldInFull(id, call.id);
    expect(told.length).toBeLessThanOrEqual(Math.floor((house.nowMs - call.atMs) / (5 * minute)) + 1);
    // Nobody is told that it still is so long after it isn't; what waited meanwhile comes late.
    const spared = house.troubles.every(
      (one) => one.id !== id || one.fromMs > untilMs || one.toMs < call.atMs - hour,
    );
    if (!spared) continue;
    for (const atMs of told.slice(1)) expect(atMs).toBeLessThanOrEqual(untilMs + minute);
    if (call.attention !== "wake") continue;
    const times = [call.atMs, ...told, untilMs];
    for (const [index, atMs] of times.entries())
      if (index > 0)
        expect(atMs - (times[index - 1] as number), `${id} ${call.id}`).toBeLessThanOrEqual(6.5 * minute);
  }
}

function checkSecond(house: House, call: TrueCall): void {
  const told = house.toldInFull("second", call.id);
  const untilMs = openUntil(call, house.nowMs);
  for (const atMs of told) expect(atMs - call.atMs).toBeGreaterThanOrEqual(10 * minute);
  if (call.attention !== "wake" || untilMs - call.atMs < 10 * minute) expect(told).toEqual([]);
  else if (untilMs - call.atMs > 12 * minute) expect(told.length).toBeGreaterThan(0);
}

function checkEnds({ receipts, life }: House): void {
  const full = new Set<string>();
  const known = new Set(life.calls.map(({ id }) => id));
  for (const { message, atMs } of receipts)
    for (const { call, step } of message.entries) {
      expect(known.has(call), `${call} never was`).toBe(true);
      const name = `${message.destination} ${call}`;
      if (step === "call") full.add(name);
      const truth = life.calls.find(({ id }) => id === call) as TrueCall;
      if (step === "ended" || step === "seen") {
        expect(full.has(name), `${name}: ${step} told to somebody who was not called`).toBe(true);
        const since = step === "ended" ? truth.endedAtMs : truth.seenAtMs;
        expect(since).not.toBeNull();
        expect(atMs).toBeGreaterThanOrEqual(since as number);
      }
    }
  for (const name of full) {
    const [destination, call] = name.split(" ");
    const { endedAtMs, replacedAtMs } = life.calls.find(({ id }) => id === call) as TrueCall;
    if (endedAtMs === null || replacedAtMs !== null) continue;
    const isTold = receipts.some(
      ({ message }) =>
        message.destination === destination &&
        message.entries.some((entry) => entry.call === call && entry.step === "ended"),
    );
    expect(isTold, `${name}: its end was never told`).toBe(true);
  }
}

describe("what is told, against a model", () => {
  it("tells each call at least once and each step at most once, whatever dies, whoever is away", async () => {
    let [told, calls] = [0, 0];
    await fc.assert(
      fc.asyncProperty(fc.array(op, { minLength: 4, maxLength: 30 }), async (ops) => {
        const house = new House();
        await live(house, ops as readonly Op[]);
        checkOnce(house);
        for (const call of house.life.calls) {
          checkTold(house, call);
          checkRepeats(house, call);
          checkSecond(house, call);
        }
        checkEnds(house);
        told += house.receipts.length;
        calls += house.life.calls.length;
        house.database.close();
      }),
      { numRuns: Number(process.env.DRUMLIN_MODEL_RUNS ?? 150) },
    );
    // The sequences have to get somewhere for this to show anything.
    expect(calls).toBeGreaterThan(200);
    expect(told).toBeGreaterThan(calls);
  });
});
