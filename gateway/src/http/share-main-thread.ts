import { setTimeout as wait } from "node:timers/promises";
import type { FastifyInstance, FastifyRequest, RouteHandlerMethod } from "fastify";
import { LoopTurns } from "../broker/index.ts";
import { MainTime } from "./main-time.ts";
import { Refusal } from "./refusal.ts";

/** Calls that cost nothing: whoever looks whether the gateway lives does not wait behind lists. */
const quick: ReadonlySet<string | undefined> = new Set(["/healthz", "/readyz"]);
/** Who waits is asked about again after so long at the latest: a steady clock may run on faster than timers (a machine that slept). */
const againMs = 1000;

/**
 * Lets each request wait until its asker has time of the main thread left, and counts what its handler takes of it. Handlers
 * run one in a turn of the event loop: of many requests that come at once each sees what those before it took, and packs are
 * taken in between.
 */
export function shareMainThread(
  server: FastifyInstance,
  askerOf: (request: FastifyRequest) => string,
  elapsedMs: () => number,
): void {
  const mainTime = new MainTime();
  const reserved = new WeakMap<object, number>();
  const turns = new LoopTurns(1);

  server.addHook("preHandler", async (request) => {
    const asker = askerOf(request);
    for (;;) {
      if (!quick.has(request.routeOptions.url)) await new Promise<void>((resolve) => turns.take(resolve));
      const { waitMs, reservedMs } = mainTime.begin(asker, elapsedMs());
      if (waitMs === 0) {
        reserved.set(request.raw, reservedMs);
        return;
      }
      await wait(Math.min(waitMs, againMs));
      if (request.raw.socket.destroyed) throw new Refusal("requests-too-many", "Whoever asked has gone.");
    }
  });
  server.addHook("onRoute", (route) => {
    const { handler } = route;
    const timed: RouteHandlerMethod = function timedHandler(request, reply) {
      const beganMs = elapsedMs();
      try {
        return handler.call(this, request, reply);
      } finally {
        const nowMs = elapsedMs();
        const work = { tookMs: nowMs - beganMs, reservedMs: reserved.get(request.raw) ?? 0 };
        mainTime.spent(askerOf(request), work, nowMs);
      }
    };
    route.handler = timed;
  });
}
