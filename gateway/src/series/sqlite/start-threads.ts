import type { FileFault } from "../../database/index.ts";
import { startStoreThread } from "../store-thread.ts";
import type { Threads } from "./batch-log-of.ts";
import type { OpenSettings } from "./open-settings.ts";
import type { ReaderRequest, ThreadTold, WriterReady, WriterRequest } from "./requests.ts";

/** Who hears what the threads say without being asked. */
interface Hearing {
  /** The writing thread has started, for the first time or again. */
  writerAgain(said: WriterReady): void;
  /** It made the file again, and what was wrong with it. */
  mended(fault: FileFault): void;
  told(told: ThreadTold, by: "writer" | "reader"): void;
  /** A thread found the file damaged. */
  damage(why: string): void;
}

/** Starts a store's threads, the reading one once somebody reads; rejects when one can't be started, and leaves none behind then. */
export async function startThreads(
  {
    path,
    againMs,
    restMs,
    retention,
    onThread,
  }: Pick<OpenSettings, "path" | "againMs" | "restMs" | "retention" | "onThread">,
  hearing: Hearing,
): Promise<{ readonly threads: Threads; readonly ready: WriterReady }> {
  let ready: WriterReady | null = null;
  const writer = await startStoreThread<WriterRequest>({
    worker: new URL("./writer-worker.ts", import.meta.url),
    data: { path, retention },
    againMs,
    onThread,
    onReady(said) {
      ready = said as WriterReady;
      hearing.writerAgain(ready);
      if (ready.mended) hearing.mended(ready.mended);
    },
    onTold: (told) => hearing.told(told as ThreadTold, "writer"),
    onDamage: (why) => hearing.damage(why),
  });
  const reader = await startStoreThread<ReaderRequest>({
    worker: new URL("./reader-worker.ts", import.meta.url),
    data: { path },
    againMs,
    restMs,
    onThread,
    onTold: (told) => hearing.told(told as ThreadTold, "reader"),
    onDamage: (why) => hearing.damage(why),
  }).catch(async (error) => {
    await writer.end();
    throw error;
  });
  return { threads: { writer, reader }, ready: ready as unknown as WriterReady };
}
