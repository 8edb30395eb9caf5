import { expect, it } from "vitest";
import { LoopTurns } from "../../../gateway/src/broker/loop-turns.ts";

const nextTurn = () => new Promise<void>((resolve) => setImmediate(resolve));

it("what comes at once takes turns with everything else, in the order in which it came", async () => {
  const turns = new LoopTurns(1);
  const done: number[] = [];
  for (let number = 0; number < 50; number += 1) turns.take(() => done.push(number));
  expect(done).toEqual([]);
  const seen: number[] = [];
  for (let turn = 0; turn < 60 && done.length < 50; turn += 1) {
    await nextTurn();
    seen.push(done.length);
  }
  // Whoever else waits has a turn after each of them.
  expect(seen).toEqual(Array.from({ length: 50 }, (_, turn) => turn + 1));
  expect(done).toEqual(Array.from({ length: 50 }, (_, number) => number));
});

it("one that fails does not hold up the others, and what comes later has its turn too", async () => {
  const turns = new LoopTurns(1);
  const done: string[] = [];
  const failures: unknown[] = [];
  const hear = (error: unknown) => failures.push(error);
  const others = process.listeners("uncaughtException");
  process.removeAllListeners("uncaughtException");
  process.on("uncaughtException", hear);
  turns.take(() => {
    throw new Error("broken");
  });
  turns.take(() => done.push("second"));
  for (let turn = 0; turn < 5; turn += 1) await nextTurn();
  process.off("uncaughtException", hear);
  for (const other of others) process.on("uncaughtException", other);
  turns.take(() => done.push("third"));
  await nextTurn();
  await nextTurn();
  expect([done, failures.length]).toEqual([["second", "third"], 1]);
});

it("so many in each turn as is said", async () => {
  const turns = new LoopTurns(8);
  let done = 0;
  for (let number = 0; number < 20; number += 1) turns.take(() => (done += 1));
  const seen: number[] = [];
  for (let turn = 0; turn < 3; turn += 1) {
    await nextTurn();
    seen.push(done);
  }
  expect(seen).toEqual([8, 16, 20]);
});

it("once all is done no turn is asked for any more", async () => {
  const turns = new LoopTurns(8);
  for (let number = 0; number < 20; number += 1) turns.take(() => {});
  for (let turn = 0; turn < 3; turn += 1) await nextTurn();
  const own = globalThis.setImmediate;
  let asked = 0;
  const counting = (work: () => void) => {
    asked += 1;
    return own(work);
  };
  globalThis.setImmediate = counting as typeof setImmediate;
  try {
    for (let turn = 0; turn < 3; turn += 1) await new Promise<void>((resolve) => own(resolve));
  } finally {
    globalThis.setImmediate = own;
  }
  expect(asked).toBe(0);
});
