import type { Worker } from "node:worker_threads";
import { openJournal } from "@drumlin/gateway/journal";
import { expect, it } from "vitest";
import { folder } from "./journal-bench.ts";

/** So much comes in a quarter of an hour where 1,000 nodes send each 5 s. */
const bursts = 700;
const entriesOfBurst = 250;
const pack = new TextEncoder().encode(`[{"n":"ec-1","u":"S/m","v":0.0412}${" ".repeat(180)}]`);

it("the journal's thread holds no memory of what it has written", async () => {
  const threads: Worker[] = [];
  const journal = await openJournal({
    folder: folder(),
    now: () => 1_000_000,
    onThread: (worker) => threads.push(worker),
  });
  let mostBytes = 0;
  for (let burst = 0; burst < bursts; burst += 1) {
    await Promise.all(
      Array.from({ length: entriesOfBurst }, () =>
        journal.append({ kind: "message", topic: "drumlin/press/readings", payload: pack }),
      ),
    );
    if (burst % 20 !== 19) continue;
    const { external_memory: bytes } = await (threads[0] as Worker).getHeapStatistics();
    mostBytes = Math.max(mostBytes, bytes as number);
  }
  await journal.close();
  expect(mostBytes / 1e6).toBeLessThan(12);
});
