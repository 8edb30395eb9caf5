import { type MessagePort, Worker } from "node:worker_threads";
import { sendGuest } from "../database/index.ts";

/** A thread of the store. One that ends by itself is told of, what was asked of it fails, and it is started again. */
export interface StoreThread<Request> {
  /** Rejects while the thread is away. */
  ask(request: Request, transfer?: ArrayBuffer[]): Promise<unknown>;
  /** Ends it until `back`; what is asked meanwhile rejects. */
  away(why: string): Promise<void>;
  /** Starts it again, also when that takes several tries. */
  back(): Promise<void>;
  /** Why the thread is away; null while it is there, or rests. */
  trouble(): string | null;
  /** It rests: the next question starts it. */
  isResting(): boolean;
  /** Ends it; resolves when it has ended. */
  end(): Promise<void>;
}

/** One that takes in what runs beside its own work. */
export interface HostThread<Request> extends StoreThread<Request> {
  /** Null while it is away. */
  takeIn(service: URL, data: unknown): MessagePort | null;
}

/** What a thread of the store is started with. */
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
  /** It starts with the first question only, and ends when nothing was asked for so long: a thread holds 12 MB. */
  readonly restMs?: number;
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

class RestartedThread<Request> implements HostThread<Request> {
  private readonly options: StoreThreadOptions;
  private readonly waiting = new Map<number, Waiting>();
  private worker: Worker | null = null;
  private lastId = 0;
  private why: string | null = null;
  private slowdown = 1;
  private again: NodeJS.Timeout | undefined;
  private isEnding = false;
  private isAway = false;
  private rest: NodeJS.Timeout | undefined;
  private isAtRest: boolean;
  private waking: Promise<void> | null = null;

  constructor(options: StoreThreadOptions) {
    this.options = options;
    this.isAtRest = options.restMs !== undefined;
  }

  async start(): Promise<void> {
    const { worker: file, data, onThread, onReady, onTold, onDamage } = this.options;
    const started = new Worker(file, {
      workerData: data,
      resourceLimits: { maxYoungGenerationSizeMb: 3 },
    });
    this.worker = started;
    started.on("message", ({ id, value, error, isDamage, told }: Message) => {
      if (told !== undefined) onTold?.(told);
      if (isDamage) onDamage?.(error ?? "damaged");
      const asked = this.waiting.get(id);
      this.waiting.delete(id);
      if (this.waiting.size === 0) this.restLater();
      if (error === undefined) asked?.resolve(value);
      else asked?.reject(new Error(error));
    });
    started.on("error", (error) =>
      this.lost(started, error instanceof Error ? error.message : String(error)),
    );
    started.on("exit", (code) => this.lost(started, `exit code ${code}`));
    onThread(started);
    const said = await new Promise<unknown>((resolve, reject) => this.waiting.set(0, { resolve, reject }));
    onReady?.(said);
    this.why = null;
    this.slowdown = 1;
  }

  async ask(request: Request, transfer: ArrayBuffer[] = []): Promise<unknown> {
    // One that was sent away must not come beside whoever makes its file again, nor one that was ended at all.
    if (this.isAtRest && !this.isAway && !this.isEnding) await this.wake();
    return this.askThread(request, transfer);
  }

  private askThread(request: Request, transfer: ArrayBuffer[]): Promise<unknown> {
    clearTimeout(this.rest);
    const there = this.worker;
    if (!there) return Promise.reject(new Error(`The store's thread is away: ${this.why ?? "it is ending"}`));
    this.lastId += 1;
    const id = this.lastId;
    return new Promise((resolve, reject) => {
      this.waiting.set(id, { resolve, reject });
      there.postMessage({ ...request, id }, transfer);
    });
  }

  takeIn(service: URL, data: unknown): MessagePort | null {
    return this.worker && sendGuest(this.worker, service, data);
  }

  trouble(): string | null {
    return this.why;
  }

  isResting(): boolean {
    return this.isAtRest && this.waking === null;
  }

  /** Whoever asks while it starts waits for the same start. One that fails is tried again like one that ended. */
  private wake(): Promise<void> {
    this.waking ??= this.start().then(
      () => {
        this.isAtRest = false;
        this.waking = null;
      },
      (error) => {
        this.isAtRest = false;
        this.waking = null;
        throw error;
      },
    );
    return this.waking;
  }

  private restLater(): void {
    const { restMs } = this.options;
    clearTimeout(this.rest);
    if (restMs !== undefined) this.rest = setTimeout(() => this.lieDown(), restMs).unref();
  }

  private lieDown(): void {
    const there = this.worker;
    if (!there || this.waiting.size > 0) return;
    this.worker = null;
    this.isAtRest = true;
    void there.terminate();
  }

  async away(why: string): Promise<void> {
    this.isAway = true;
    clearTimeout(this.again);
    await this.worker?.terminate();
    this.why = why;
  }

  async back(): Promise<void> {
    this.isAway = false;
    if (!this.isEnding && !this.isAtRest) await this.start().catch(() => {});
    if (this.isAtRest) this.why = null;
  }

  async end(): Promise<void> {
    this.isEnding = true;
    clearTimeout(this.again);
    clearTimeout(this.rest);
    await this.worker?.terminate();
  }

  private lost(from: Worker, why: string): void {
    if (this.worker !== from) return;
    this.worker = null;
    this.why = why;
    for (const { reject } of this.waiting.values()) reject(new Error(`The store's thread ended: ${why}`));
    this.waiting.clear();
    if (!this.isEnding && !this.isAway) this.startLater();
  }

  private startLater(): void {
    this.again = setTimeout(() => {
      this.slowdown = Math.min(maxSlowdown, this.slowdown * 2);
      // `lost` keeps why, and tries again.
      this.start().catch(() => {});
    }, this.options.againMs * this.slowdown);
  }
}

/** Starts a thread of the store; one that may rest starts when it is asked. Rejects when the first start fails. */
export async function startStoreThread<Request>(options: StoreThreadOptions): Promise<HostThread<Request>> {
  const thread = new RestartedThread<Request>(options);
  if (options.restMs !== undefined) return thread;
  try {
    await thread.start();
  } catch (error) {
    await thread.end();
    throw error;
  }
  return thread;
}
