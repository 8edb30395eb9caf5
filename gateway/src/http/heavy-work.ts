import { Worker } from "node:worker_threads";
import type { LineFault } from "../line/index.ts";
import type { compute } from "../water/index.ts";
import { Refusal } from "./refusal.ts";

/** Work whose length its caller decides: it never runs where packs are taken. */
export type HeavyTask =
  | { readonly kind: "check"; readonly yaml: string }
  /** The API's document, as JSON text. */
  | { readonly kind: "document" }
  | {
      readonly kind: "compute";
      readonly formula: string;
      readonly inputs: Readonly<Record<string, unknown>>;
    };

/** What the work gives. */
interface HeavyAnswers {
  readonly check: { readonly ok: boolean; readonly faults: readonly LineFault[] };
  readonly compute: ReturnType<typeof compute>;
  readonly document: string;
}

/** A thread for heavy work: one piece at a time, bounded in time and memory; what waits is bounded, in all and of one asker. */
export interface HeavyWork {
  /** Rejects with Refusal `work-too-long`, `work-too-much`. */
  run<Task extends HeavyTask>(asker: string, task: Task): Promise<HeavyAnswers[Task["kind"]]>;
  stop(): void;
}

const longestWorkMs = 2000;
/** What no caller can make longer may take its time. */
const longestOwnWorkMs = 30_000;
const longestStartMs = 60_000;
const maxWaiting = 32;
const maxOfAsker = 4;
const maxMemoryMB = 128;
const maxYoungMB = 8;
/** A thread that nobody needs gives its memory back. */
const idleForMs = 5000;

interface Piece {
  readonly asker: string;
  readonly task: HeavyTask;
  readonly resolve: (answer: never) => void;
  readonly reject: (error: Error) => void;
}

type FromWorker =
  | "ready"
  /** What the piece needs is loaded: from here on its own length counts. */
  | "begins"
  | { readonly ok: true; readonly answer: never }
  | { readonly ok: false; readonly error: string };

class WorkThread implements HeavyWork {
  private readonly waiting: Piece[] = [];
  private current: Piece | null = null;
  private worker: Worker | null = null;
  private isReady = false;
  private timer: NodeJS.Timeout | undefined;

  run<Task extends HeavyTask>(asker: string, task: Task): Promise<HeavyAnswers[Task["kind"]]> {
    const own = this.waiting.filter((piece) => piece.asker === asker).length;
    if (own >= maxOfAsker || this.waiting.length >= maxWaiting)
      return Promise.reject(new Refusal("work-too-much", `${this.waiting.length} pieces of work wait.`));
    return new Promise((resolve, reject) => {
      this.waiting.push({ asker, task, resolve, reject });
      this.next();
    });
  }

  stop(): void {
    for (const piece of this.waiting.splice(0))
      piece.reject(new Refusal("not-ready", "The gateway is stopping."));
    this.end(new Refusal("not-ready", "The gateway is stopping."));
  }

  private next(): void {
    if (this.current) return;
    if (this.waiting.length === 0) {
      this.endWhenIdle();
      return;
    }
    if (!this.worker) this.start();
    if (!this.isReady) return;
    this.current = this.waiting.shift() as Piece;
    this.worker?.postMessage(this.current.task);
    this.limit(longestStartMs, "What it needs could not be loaded.");
  }

  private limitPiece(): void {
    const longestMs = this.current?.task.kind === "document" ? longestOwnWorkMs : longestWorkMs;
    this.limit(longestMs, `It was ended after ${longestMs / 1000} s.`);
  }

  private start(): void {
    const worker = new Worker(new URL("./heavy-worker.ts", import.meta.url), {
      // A small young generation: its pages are not given back when the thread ends.
      resourceLimits: { maxOldGenerationSizeMb: maxMemoryMB, maxYoungGenerationSizeMb: maxYoungMB },
    });
    worker.unref();
    this.worker = worker;
    this.isReady = false;
    this.limit(longestStartMs, "The thread for it did not start.");
    worker.on("message", (message: FromWorker) => {
      if (this.worker === worker) this.hear(message);
    });
    // Above all: out of its memory.
    worker.on("error", (error: Error) => {
      if (this.worker === worker) this.end(new Refusal("work-too-long", error.message));
      this.next();
    });
  }

  private hear(message: FromWorker): void {
    if (message === "begins") {
      this.limitPiece();
      return;
    }
    clearTimeout(this.timer);
    if (message === "ready") this.isReady = true;
    else {
      const piece = this.current;
      this.current = null;
      if (message.ok) piece?.resolve(message.answer);
      else piece?.reject(new Error(message.error));
    }
    this.next();
  }

  /** Ends the thread when nothing is heard of it in time; what waits goes to a new one. */
  private limit(ms: number, detail: string): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      this.end(new Refusal("work-too-long", detail));
      this.next();
    }, ms);
    this.timer.unref();
  }

  private endWhenIdle(): void {
    if (!this.worker) return;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.endThread(), idleForMs);
    this.timer.unref();
  }

  private end(why: Refusal): void {
    clearTimeout(this.timer);
    // A thread that never started has no piece yet: the one that waited for it is told.
    const piece = this.current ?? (this.isReady ? null : this.waiting.shift());
    this.current = null;
    piece?.reject(why);
    this.endThread();
  }

  private endThread(): void {
    clearTimeout(this.timer);
    void this.worker?.terminate();
    this.worker = null;
    this.isReady = false;
  }
}

/** Makes the thread; it starts with the first piece of work. */
export function createHeavyWork(): HeavyWork {
  return new WorkThread();
}

/** The API's document, made off the main thread when it is first asked for, once for everybody who asks meanwhile. */
export function documentOnce(work: HeavyWork): () => Promise<string> {
  let made: Promise<string> | null = null;
  return () => {
    made ??= work.run("the gateway", { kind: "document" }).catch((error: unknown) => {
      made = null;
      throw error;
    });
    return made;
  };
}
