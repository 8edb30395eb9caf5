import { steadyMs } from "./host-time.ts";
import { plainError } from "./plain-error.ts";

/** How a part is. `degraded`: it does less, the rest goes on. `failed`: the gateway is not ready. `text` names no path. */
export interface Health {
  readonly state: "good" | "degraded" | "failed";
  readonly text: string | null;
}

/** All is well, nothing to say. */
export const good: Health = { state: "good", text: null };

/** A part of the gateway with a life of its own. */
export interface Part {
  readonly name: string;
  /** Begins; throws in plain words when it can't, and has then left nothing behind. */
  start(): void | Promise<void>;
  /** Ends, by `deadlineMs` of the steady time at the latest; whatever hangs is left behind then. */
  stop(deadlineMs: number): void | Promise<void>;
  health(): Health;
}

/** A part that gives something to the parts after it. */
export interface Giving<Given> extends Part {
  /** What it gives; throws before it has started. */
  readonly it: Given;
}

interface Life<Given> {
  start(): Given | Promise<Given>;
  stop?(given: Given, deadlineMs: number): void | Promise<void>;
  health?(given: Given): Health;
}

/** Makes a part of its life: what `start` gives is handed to the rest. */
export function definePart<Given>(name: string, life: Life<Given>): Giving<Given> {
  let given: { readonly it: Given } | null = null;
  return {
    name,
    async start() {
      given = { it: await life.start() };
    },
    async stop(deadlineMs) {
      if (given) await life.stop?.(given.it, deadlineMs);
    },
    health: () =>
      given ? (life.health?.(given.it) ?? good) : { state: "failed", text: "it has not started yet" },
    get it() {
      if (!given) throw new Error(`${name} has not started yet.`);
      return given.it;
    },
  };
}

/** A part could not start; the message names it and says why. Those before it were stopped. */
export class PartFailed extends Error {
  readonly part: string;
  constructor(part: string, cause: unknown) {
    super(`${part}: ${plainError(cause)}`, { cause });
    this.name = "PartFailed";
    this.part = part;
  }
}

/** All parts together have so long to stop: a second of the ten that the system gives is left for ending the process. */
const stopWithinMs = 9000;
/** Undoing a start that failed takes no longer. */
const undoWithinMs = 4000;
/** One part gets no more of it, and each one after it has at least this left. */
const maxShareMs = 3000;
const leastShareMs = 250;

/** How a part is now, with its name. */
export type PartHealth = Health & { readonly part: string };

/** Resolves with false when `work` is not done by then; it goes on unheard. */
async function within(work: Promise<unknown>, ms: number): Promise<boolean> {
  const timeout = Promise.withResolvers<boolean>();
  const timer = setTimeout(() => timeout.resolve(false), ms);
  try {
    return await Promise.race([work.then(() => true), timeout.promise]);
  } finally {
    clearTimeout(timer);
  }
}

/** Starts parts in order and stops them in reverse. */
export function createParts(parts: readonly Part[], log: (message: string) => void) {
  let started: Part[] = [];
  let phase: "new" | "starting" | "running" | "stopping" = "new";
  let stopped: Promise<readonly string[]> | null = null;

  async function stopOne(part: Part, shareMs: number): Promise<boolean> {
    try {
      const work = Promise.resolve(part.stop(steadyMs() + shareMs));
      // One that fails after its time is up has nobody to tell.
      work.catch(() => {});
      if (await within(work, shareMs)) return true;
      log(`${part.name}: it did not stop in ${(shareMs / 1000).toFixed(1)} s and is left behind`);
    } catch (error) {
      log(
        `${part.name}: it did not stop in order: ${error instanceof Error ? error.message : String(error)}`,
      );
    }
    return false;
  }

  async function stopAll(withinMs: number): Promise<readonly string[]> {
    const deadlineMs = steadyMs() + withinMs;
    const left = started.reverse();
    started = [];
    const hanging: string[] = [];
    for (const [index, part] of left.entries()) {
      const spareMs = deadlineMs - steadyMs() - (left.length - index - 1) * leastShareMs;
      if (!(await stopOne(part, Math.max(leastShareMs, Math.min(maxShareMs, spareMs)))))
        hanging.push(part.name);
    }
    return hanging;
  }

  return {
    /** Starts every part; throws PartFailed, with those before it undone. */
    async start(): Promise<void> {
      phase = "starting";
      for (const part of parts) {
        try {
          await part.start();
        } catch (error) {
          phase = "stopping";
          await stopAll(undoWithinMs);
          throw new PartFailed(part.name, error);
        }
        started.push(part);
      }
      phase = "running";
    },
    /** Stops every part in reverse, whatever hangs; gives the names of those that did not stop in order. */
    stop(): Promise<readonly string[]> {
      phase = "stopping";
      stopped ??= stopAll(stopWithinMs);
      return stopped;
    },
    health: (): readonly PartHealth[] => parts.map((part) => ({ part: part.name, ...part.health() })),
    /** What does less than it should, by the part's name. */
    degraded: (): readonly string[] =>
      parts.flatMap((part) => {
        const { state, text } = part.health();
        return state === "degraded" ? [`${part.name}: ${text ?? "degraded"}`] : [];
      }),
    /** Why the gateway is not ready, by the part's name; null when it is. */
    notReady(): string | null {
      if (phase !== "running")
        return phase === "stopping" ? "The gateway is stopping." : "The gateway is starting.";
      const failed = this.health().filter(({ state }) => state === "failed");
      return failed.length === 0
        ? null
        : failed.map(({ part, text }) => `${part}: ${text ?? "failed"}`).join("; ");
    },
  };
}

/** The parts of a running gateway. */
export type Parts = ReturnType<typeof createParts>;
