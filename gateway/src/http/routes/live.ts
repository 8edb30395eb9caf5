import type { FastifyInstance, FastifyRequest } from "fastify";
import type { HttpComponents } from "../components.ts";
import { type Gate, signedBy } from "../gate.ts";
import { serveLive } from "../live-stream.ts";
import { LiveTexts } from "../live-texts.ts";
import type { Query } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { createUnderWay } from "../under-way.ts";

const maxStreams = 200;
/** Of one person or program: nobody takes all of them. */
const maxStreamsOfAsker = 20;
const lookAgainMs = 1000;

function everyOf(text: string | undefined): number {
  const match = /^(\d{1,5})(ms|s)?$/.exec(text ?? "250ms");
  if (!match) throw new Refusal("query-not-understood", 'every must be such as "250ms", "1s" or 0.');
  return Math.min(60_000, Number(match[1]) * (match[2] === "s" ? 1000 : 1));
}

/** The live stream. Gives the way to end every stream that is open. */
export function liveRoutes(server: FastifyInstance, components: HttpComponents, gate: Gate): () => void {
  const streams = new Map<() => void, FastifyRequest>();
  const texts = new LiveTexts();
  const ofAsker = createUnderWay(maxStreamsOfAsker);
  // Who was signed out, removed or revoked hears nothing more.
  const looking = setInterval(() => {
    for (const [end, request] of streams) if (!gate.stillIn(request)) end();
  }, lookAgainMs);
  looking.unref();
  server.get<{ Querystring: Query }>("/api/live", { exposeHeadRoute: false }, (request, reply) => {
    if (streams.size >= maxStreams) throw new Refusal("too-many-streams", `${maxStreams} streams are open.`);
    const lastEventId = request.headers["last-event-id"];
    const everyMs = everyOf(request.query.every);
    // A parameter given twice comes as a list; after hijack nothing would answer a fault.
    const { points } = request.query;
    if (points !== undefined && typeof points !== "string")
      throw new Refusal("query-not-understood", "points must be given once: ids, comma between.");
    const asker = signedBy(request);
    if (!ofAsker.begin(asker))
      throw new Refusal("too-many-streams", `${asker} has ${maxStreamsOfAsker} streams open.`);
    reply.hijack();
    reply.raw.once("close", () => ofAsker.end(asker));
    const end = serveLive(
      reply.raw,
      { components, texts },
      {
        points: points ? new Set(points.split(",")) : null,
        everyMs,
        lastEventId:
          typeof lastEventId === "string" && /^\d+$/.test(lastEventId) ? Number(lastEventId) : null,
      },
    );
    streams.set(end, request);
    reply.raw.on("close", () => streams.delete(end));
  });

  return () => {
    clearInterval(looking);
    for (const end of streams.keys()) end();
  };
}
