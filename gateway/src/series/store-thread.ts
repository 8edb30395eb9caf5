import { Worker } from "node:worker_threads";

/** A thread of the store. One that ends by itself is told of, what was asked of it fails, and it is started again. */
export interface StoreThread<Request> {
  /** Rejects while the thread is away. */
  ask(request: Request, transfer?: ArrayBuffer[]): Promise<unknown>;
  /** Ends it until `back`; what is asked meanwhile rejects. */
  away(why: string): Promise<void>;
  /** Starts it again, also when that takes several tries. */
  back(): Promise<void>;
  /** Why the thread is away; null while it is there. */
  trouble(): string | null;
  /** Ends it; resolves when it has ended. */
  end(): Promise<void>;
}

export interface StoreThreadOptions {
  /** The file of the thread. */
  readonly worker: URL;
  /** What the thread is given. */
  readonly data: Readonly<Record<string, unknown>>;
  /** Told what it says when it has started, each time. */
  readonly onReady?: (said: unknown) => void;
  /** Told that its file is damaged. */
  readonly onDamage?: (why: string) => void;
  /** Told what it says unasked. */
  readonly onTold?: (told: unknown) => void;
  /** Waits so long before it starts again, twice as long each time that it fails, at most 60 times. */
  readonly againMs: number;
  /** Told of each thread that starts. */
  readonly onThread: (worker: Worker) => void;
}

interface Waiting {
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: Error) => void;
}

interface Message {
  readonly id: number;
  readonly value?: unknown;
  readonly error?: string;
  readonly isDamage?: boolean;
  readonly told?: unknown;
}

const maxSlowdown = 60;

/** Starts a thread of the store. Rejects when the first start fails. */
export async function startStoreThread<Request>(options: StoreThreadOptions): Promise<StoreThread<Request>> {
  const { worker: file, data, againMs, onThread, onReady = () => {} } = options;
  const { onTold = () => {}, onDamage = () => {} } = options;
  const waiting = new Map<number, Waiting>();
  let worker: Worker | null = null;
  let lastId = 0;
  let trouble: string | null = null;
  let slowdown = 1;
  let again: NodeJS.Timeout | undefined;
  let isEnding = false;
  let isAway = false;

  function startLater(): void {
    again = setTimeout(() => {
      slowdown = Math.min(maxSlowdown, slowdown * 2);
      start().catch(() => {});
    }, againMs * slowdown);
  }

  function lost(from: Worker, why: string): void {
    if (worker !== from) return;
    worker = null;
    trouble = why;
    for (const { reject } of waiting.values()) reject(new Error(`The store's thread ended: ${why}`));
    waiting.clear();
    if (!isEnding && !isAway) startLater();
  }

  function start(): Promise<void> {
    const started = new Worker(file, {
      workerData: data,
      resourceLimits: { maxYoungGenerationSizeMb: 8 },
    });
    worker = started;
    started.on("message", ({ id, value, error, isDamage, told }: Message) => {
      if (told !== undefined) onTold(told);
      if (isDamage) onDamage(error ?? "damaged");
      const asked = waiting.get(id);
      waiting.delete(id);
      if (error === undefined) asked?.resolve(value);
      else asked?.reject(new Error(error));
    });
    started.on("error", (error) => lost(started, error instanceof Error ? error.message : String(error)));
    started.on("exit", (code) => lost(started, `exit code ${code}`));
    onThread(started);
    return new Promise<unknown>((resolve, reject) => waiting.set(0, { resolve, reject })).then((said) => {
      onReady(said);
      trouble = null;
      slowdown = 1;
    });
  }

  try {
    await start();
  } catch (error) {
    isEnding = true;
    clearTimeout(again);
    throw error;
  }
  return {
    ask(request, transfer = []) {
      const there = worker;
      if (!there)
        return Promise.reject(new Error(`The store's thread is away: ${trouble ?? "it is ending"}`));
      lastId += 1;
      const id = lastId;
      return new Promise((resolve, reject) => {
        waiting.set(id, { resolve, reject });
        there.postMessage({ ...request, id }, transfer);
      });
    },
    trouble: () => trouble,
    async away(why) {
      isAway = true;
      clearTimeout(again);
      await worker?.terminate();
      trouble = why;
    },
    async back() {
      isAway = false;
      if (!isEnding) await start().catch(() => {});
    },
    async end() {
      isEnding = true;
      clearTimeout(again);
      await worker?.terminate();
    },
  };
}
