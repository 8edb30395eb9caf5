import { on } from "node:events";
import { Worker } from "node:worker_threads";
import type { Calendar } from "./calendar.ts";
import type { DerivationAsked, DerivationTold } from "./derivation-wire.ts";
import type { PastRun } from "./past-pieces.ts";

/** More than a derivation was seen to need; one that goes beyond fails by name, and the gateway goes on. */
const maxMemoryMB = 512;

interface DerivationThreadNeeds {
  readonly folder: string;
  readonly calendar: Calendar;
  /** Resolves when nothing waits for live work: the thread gets no further before. */
  readonly whenCalm: () => Promise<void>;
}

/** A past run on a thread of its own, over the files of a folder, as they are on disk when it begins. */
export function pastOnThread({ folder, calendar, whenCalm }: DerivationThreadNeeds): PastRun {
  return async function* (asked, signal) {
    const workerData: DerivationAsked = { folder, corrections: calendar.corrections(), asked };
    const worker = new Worker(new URL("./derivation-worker.ts", import.meta.url), {
      workerData,
      resourceLimits: { maxOldGenerationSizeMb: maxMemoryMB, maxYoungGenerationSizeMb: 24 },
    });
    try {
      // What the thread dies of comes as an error, and out of here.
      const messages = on(worker, "message", { close: ["exit"], ...(signal ? { signal } : {}) });
      for await (const [told] of messages as AsyncIterable<[DerivationTold]>) {
        if (told.type === "end") return;
        if (told.type === "failed") throw new Error(told.message);
        yield told.piece;
        await whenCalm();
        worker.postMessage(null);
      }
      throw new Error("The thread of the derivation ended.");
    } finally {
      await worker.terminate();
    }
  };
}
