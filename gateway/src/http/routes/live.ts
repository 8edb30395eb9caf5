import type { FastifyInstance } from "fastify";
import type { HttpComponents } from "../components.ts";
import { serveLive } from "../live-stream.ts";
import type { Query } from "../read-request.ts";
import { Refusal } from "../refusal.ts";

const mostStreams = 200;

function everyOf(text: string | undefined): number {
  const match = /^(\d{1,5})(ms|s)?$/.exec(text ?? "250ms");
  if (!match) throw new Refusal("query-not-understood", 'every must be such as "250ms", "1s" or 0.');
  return Math.min(60_000, Number(match[1]) * (match[2] === "s" ? 1000 : 1));
}

/** The live stream. Gives the way to end every stream that is open. */
export function liveRoutes(server: FastifyInstance, components: HttpComponents): () => void {
  const streams = new Set<() => void>();
  server.get<{ Querystring: Query }>("/api/live", (request, reply) => {
    if (streams.size >= mostStreams)
      throw new Refusal("too-many-streams", `${mostStreams} streams are open.`);
    const lastEventId = request.headers["last-event-id"];
    const everyMs = everyOf(request.query.every);
    // A parameter given twice comes as a list; after hijack nothing would answer a fault.
    const { points } = request.query;
    if (points !== undefined && typeof points !== "string")
      throw new Refusal("query-not-understood", "points must be given once: ids, comma between.");
    reply.hijack();
    const end = serveLive(reply.raw, components, {
      points: points ? new Set(points.split(",")) : null,
      everyMs,
      lastEventId: typeof lastEventId === "string" && /^\d+$/.test(lastEventId) ? Number(lastEventId) : null,
    });
    streams.add(end);
    reply.raw.on("close", () => streams.delete(end));
  });

  return () => {
    for (const end of streams) end();
  };
}
