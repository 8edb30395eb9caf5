import type { Journal } from "../../journal/index.ts";
import { steadyMs } from "../host-time.ts";
import { definePart, type Giving, good, type Part } from "../parts.ts";
import type { RunningPath } from "./path-part.ts";

const everyMs = 10_000;
/** A large state takes long to write: it is then written less often, so that it never takes over 5 % of the time. */
const maxShareInverse = 20;

/** Saves the path's state again and again. */
export function checkpointPart(
  path: Giving<RunningPath>,
  journal: Giving<Journal>,
  log: (message: string) => void,
): Part {
  let timer: NodeJS.Timeout | undefined;
  let isStopped = false;
  let failure: string | null = null;

  async function save(): Promise<void> {
    const beganMs = steadyMs();
    try {
      await path.it.driver.checkpoint();
      failure = null;
    } catch (error) {
      failure = error instanceof Error ? error.message : String(error);
      log(`checkpoint: ${failure}`);
    }
    saveAfter(Math.max(everyMs, maxShareInverse * (steadyMs() - beganMs)));
  }

  function saveAfter(ms: number): void {
    if (!isStopped) timer = setTimeout(() => void save(), ms);
  }

  return definePart("checkpoint", {
    start: () => saveAfter(everyMs),
    stop() {
      isStopped = true;
      clearTimeout(timer);
    },
    health() {
      if (journal.it.checkpointTrouble !== null)
        return { state: "failed", text: "its thread has ended; the next one starts it again" };
      return failure === null ? good : { state: "degraded", text: "the last one could not be written" };
    },
  });
}
