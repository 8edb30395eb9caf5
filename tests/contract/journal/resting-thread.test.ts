// A reading thread that rests, and who asks it while it must not come.
import type { Worker } from "node:worker_threads";
import { afterEach, expect, it, vi } from "vitest";
import { startStoreThread } from "../../../gateway/src/series/store-thread.ts";

// Real threads on a machine that may be busy: every wait below is for an answer.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

/** A thread that says it is ready, and answers each question with its own number. */
const worker = new URL(
  `data:text/javascript,${encodeURIComponent(`
    import { parentPort, threadId } from "node:worker_threads";
    parentPort.on("message", ({ id }) => parentPort.postMessage({ id, value: threadId }));
    parentPort.postMessage({ id: 0 });
  `)}`,
);
const ends: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0)) await end();
});

async function resting() {
  const started: Worker[] = [];
  const onThread = (one: Worker) => void started.push(one);
  const thread = await startStoreThread<object>({ worker, data: {}, againMs: 20, restMs: 60_000, onThread });
  ends.push(async () => {
    await thread.end();
    for (const one of started) await one.terminate();
  });
  return { thread, started };
}

it("a question while the file is made again does not start it beside that; afterwards one thread answers", async () => {
  const { thread, started } = await resting();
  await thread.away("the file is damaged");
  const asked = thread.ask({});
  await expect(asked).rejects.toThrow("away: the file is damaged");
  expect(started).toHaveLength(0);
  await thread.back();
  expect(thread.trouble()).toBeNull();
  expect(await thread.ask({})).toBe(started[0]?.threadId);
  expect(started).toHaveLength(1);
});

it("a question after the end starts nothing: a thread that nobody ends would keep the process from ending", async () => {
  const { thread, started } = await resting();
  await thread.end();
  await expect(thread.ask({})).rejects.toThrow("away");
  expect(started).toHaveLength(0);
});

it("it is sent away while it starts, and one answers afterwards", async () => {
  const { thread, started } = await resting();
  const asked = thread.ask({});
  const refused = expect(asked).rejects.toThrow("ended");
  await thread.away("the file is damaged");
  await refused;
  await expect(thread.ask({})).rejects.toThrow("away");
  await thread.back();
  expect(await thread.ask({})).toBe(started[1]?.threadId);
  expect(started).toHaveLength(2);
});
it("50 questions at once at rest: all are answered, by one thread", async () => {
  const { thread, started } = await resting();
  const all = await Promise.all(Array.from({ length: 50 }, () => thread.ask({})));
  expect([new Set(all).size, started.length]).toEqual([1, 1]);
});
