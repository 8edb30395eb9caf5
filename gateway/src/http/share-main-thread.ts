import { setTimeout as wait } from "node:timers/promises";
import type { FastifyInstance, FastifyRequest, RouteHandlerMethod } from "fastify";
import { FairTurns } from "./fair-turns.ts";
import { MainTime } from "./main-time.ts";
import { OneAtATime } from "./one-at-a-time.ts";
import { Refusal } from "./refusal.ts";

declare module "fastify" {
  interface FastifyRequest {
    /** Does a long list piece by piece: nobody else's pieces wait for the whole of it. Null before the hooks have run. */
    inPieces: InPieces | null;
  }
}

/** Lets `work` give a list piece by piece; of one asker one such list is made at once, so that few lie half done in memory. */
type InPieces = <Result>(work: (piece: Piece) => Promise<Result>) => Promise<Result>;

/** Does one piece in a turn of its own, when its asker may. Rejects with Refusal when whoever asked has gone. */
export type Piece = <Result>(work: () => Result) => Promise<Result>;

/** Calls that cost nothing: whoever looks whether the gateway lives does not wait behind lists. */
const quick: ReadonlySet<string | undefined> = new Set(["/healthz", "/readyz"]);
/** Who waits is asked about again after so long at the latest: a steady clock may run on faster than timers (a machine that slept). */
const againMs = 1000;

/** Bounds and orders what requests take of the main thread. */
class MainThread {
  private readonly mainTime = new MainTime();
  private readonly turns = new FairTurns();
  private readonly lists = new OneAtATime();
  private readonly elapsedMs: () => number;

  constructor(elapsedMs: () => number) {
    this.elapsedMs = elapsedMs;
  }

  /** Waits for a turn in which the asker has time left; what is taken for it meanwhile, ms. */
  async begin(asker: string, request: FastifyRequest): Promise<number> {
    for (;;) {
      if (!quick.has(request.routeOptions.url))
        await new Promise<void>((resolve) => this.turns.take(asker, resolve));
      if (request.raw.socket.destroyed) throw new Refusal("requests-too-many", "Whoever asked has gone.");
      const { waitMs, reservedMs } = this.mainTime.begin(asker, this.elapsedMs());
      if (waitMs === 0) return reservedMs;
      await wait(Math.min(waitMs, againMs));
    }
  }

  /** Does work that was begun, and counts what it takes until it first waits. */
  timed<Result>(asker: string, reservedMs: number, work: () => Result): Result {
    const beganMs = this.elapsedMs();
    try {
      return work();
    } finally {
      const nowMs = this.elapsedMs();
      this.mainTime.spent(asker, { tookMs: nowMs - beganMs, reservedMs }, nowMs);
    }
  }

  piecesOf(asker: string, request: FastifyRequest): InPieces {
    const piece: Piece = async (work) => this.timed(asker, await this.begin(asker, request), work);
    return (work) => this.lists.run(asker, () => work(piece));
  }
}

/**
 * Lets each request wait until its asker has time of the main thread left, and counts what its handler takes of it. Handlers
 * and pieces of long lists run one in a turn of the event loop: of many requests that come at once each sees what those
 * before it took, and packs are taken in between.
 */
export function shareMainThread(
  server: FastifyInstance,
  askerOf: (request: FastifyRequest) => string,
  elapsedMs: () => number,
): void {
  const thread = new MainThread(elapsedMs);
  const reserved = new WeakMap<object, number>();

  server.decorateRequest("inPieces", null);
  server.addHook("preHandler", async (request) => {
    const asker = askerOf(request);
    request.inPieces = thread.piecesOf(asker, request);
    reserved.set(request.raw, await thread.begin(asker, request));
  });
  server.addHook("onRoute", (route) => {
    const { handler } = route;
    const timed: RouteHandlerMethod = function timedHandler(request, reply) {
      return thread.timed(askerOf(request), reserved.get(request.raw) ?? 0, () =>
        handler.call(this, request, reply),
      );
    };
    route.handler = timed;
  });
}
