// The journal's thread: owns the files, commits one batch after the other, answers reads between them.
import { parentPort, workerData } from "node:worker_threads";
import { giveBack } from "./given-back.ts";
import { JournalError } from "./journal.ts";
import { Segments } from "./segments.ts";
import type { EntryBatch } from "./wire.ts";

/** What the main thread asks. */
export type JournalRequest =
  | { readonly type: "write"; readonly batch: EntryBatch }
  | { readonly type: "read"; readonly id: number; readonly fromSeq: number }
  | {
      readonly type: "prune";
      readonly safeSeq: number;
      readonly nowMs: number;
      readonly keepMs: number;
      readonly keepBytes: number;
    }
  | { readonly type: "close" };

const port = parentPort;
if (!port) throw new Error("journal-worker.ts runs as a worker only.");
const settings = workerData as ConstructorParameters<typeof Segments>[0];

function failure(error: unknown): { readonly code: string; readonly message: string } {
  const code = error instanceof JournalError ? error.code : "journal-failed";
  return { code, message: error instanceof Error ? error.message : String(error) };
}

/** A batch came with memory of its own. */
function letGo({ bytes, ends, receivedAt, kinds, topicOf }: EntryBatch): void {
  for (const column of [bytes, ends, receivedAt, kinds, topicOf]) giveBack(column);
}

function tellFaults(segments: Segments): void {
  for (const text of segments.faults.splice(0)) port?.postMessage({ type: "fault", text });
}

try {
  const segments = new Segments(settings);
  port.postMessage({
    type: "opened",
    lastSeq: segments.lastSeq,
    lastReceivedAt: segments.lastReceivedAt,
    firstSeq: segments.firstSeq,
    setAside: segments.setAside,
    usedSeq: segments.usedSeq,
    accountedSeq: segments.accountedSeq,
    end: segments.end,
    isSomethingBack: segments.isSomethingBack,
    faults: segments.faults.splice(0),
  });
  port.on("message", (request: JournalRequest) => {
    switch (request.type) {
      case "write":
        try {
          segments.write(request.batch);
          port.postMessage({ type: "written" });
        } catch (error) {
          port.postMessage({ type: "write-failed", ...failure(error) });
        }
        letGo(request.batch);
        return;
      case "read":
        try {
          port.postMessage({ type: "entries", id: request.id, entries: segments.read(request.fromSeq) });
        } catch (error) {
          port.postMessage({ type: "read-failed", id: request.id, ...failure(error) });
        }
        tellFaults(segments);
        return;
      case "prune":
        try {
          segments.prune(request);
        } catch {
          // A file that can't be looked at or removed stays; the next checkpoint tries again.
        }
        port.postMessage({ type: "pruned", firstSeq: segments.firstSeq });
        return;
      case "close":
        segments.close();
        port.postMessage({ type: "closed" });
        port.close();
        return;
    }
  });
} catch (error) {
  port.postMessage({ type: "open-failed", ...failure(error) });
  port.close();
}
