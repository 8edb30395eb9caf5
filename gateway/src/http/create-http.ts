import { existsSync } from "node:fs";
import fastifyStatic from "@fastify/static";
import fastify, { type FastifyReply, type FastifyRequest } from "fastify";
import type { z } from "zod";
import { quantityUnits } from "../measurements/index.ts";
import { compute, formulas } from "../water/index.ts";
import type { GivenAct, HttpComponents, HttpOptions } from "./components.ts";
import { alarmActSchema, computeBodySchema } from "./contract.ts";
import { formulaView } from "./formula-view.ts";
import { serveLive } from "./live-stream.ts";
import { openApiDocument } from "./open-api.ts";
import { openMetricsText } from "./open-metrics.ts";
import { everyCode, type ProblemCode, problems } from "./problems.ts";
import { alarmChangeView, alarmView, iso } from "./views.ts";

const mostStreams = 200;

/** A refusal with its stable code; becomes an RFC 9457 answer. */
class Refusal extends Error {
  readonly code: ProblemCode;
  constructor(code: ProblemCode, detail: string) {
    super(detail);
    this.code = code;
  }
}

function isLoopback(host: string): boolean {
  return host === "localhost" || host === "::1" || /^127(\.\d{1,3}){3}$/.test(host);
}

function answerProblem(reply: FastifyReply, code: ProblemCode, detail: string): FastifyReply {
  const { status, title } = problems[code];
  return reply
    .code(status)
    .type("application/problem+json")
    .send({ type: `/api/docs#${code}`, title, status, code, detail });
}

function parse<Schema extends z.ZodType>(schema: Schema, body: unknown): z.infer<Schema> {
  const read = schema.safeParse(body);
  if (read.success) return read.data;
  throw new Refusal(
    "body-not-understood",
    read.error.issues.map((issue) => `${issue.path.join(".") || "body"}: ${issue.message}`).join("; "),
  );
}

function timeOf(text: string | undefined, otherwise: number, name: string): number {
  if (text === undefined) return otherwise;
  const ms = /^-?\d+$/.test(text) ? Number(text) : Date.parse(text);
  if (!Number.isFinite(ms))
    throw new Refusal(
      "query-not-understood",
      `${name}=${text.slice(0, 60)} is no time: write ISO 8601 or epoch ms.`,
    );
  return ms;
}

function wholeOf(
  text: string | undefined,
  otherwise: number,
  min: number,
  max: number,
  name: string,
): number {
  const value = text === undefined ? otherwise : Number(text);
  if (!Number.isInteger(value) || value < min || value > max)
    throw new Refusal("query-not-understood", `${name} must be a whole number from ${min} to ${max}.`);
  return value;
}

function everyOf(text: string | undefined): number {
  const match = /^(\d{1,5})(ms|s)?$/.exec(text ?? "250ms");
  if (!match) throw new Refusal("query-not-understood", 'every must be such as "250ms", "1s" or 0.');
  return Math.min(60_000, Number(match[1]) * (match[2] === "s" ? 1000 : 1));
}

/** Starts the HTTP side on a loopback address; another address is refused until accounts exist. */
export async function createHttp(components: HttpComponents, options: HttpOptions) {
  if (!isLoopback(options.host))
    throw new Error(`HTTP listens on loopback only until accounts exist: ${options.host} is refused.`);
  const server = fastify({
    bodyLimit: 64 * 1024,
    forceCloseConnections: true,
    routerOptions: { maxParamLength: 200 },
    // Such as an address that can't be decoded: it never gets as far as the error handler.
    frameworkErrors: (error, _request, reply) => answerProblem(reply, "query-not-understood", error.message),
  });
  const streams = new Set<() => void>();

  server.setErrorHandler((error: Error & { code?: string; statusCode?: number }, _request, reply) => {
    if (error instanceof Refusal) return answerProblem(reply, error.code, error.message);
    if (error.code === "FST_ERR_CTP_BODY_TOO_LARGE")
      return answerProblem(reply, "body-too-large", error.message);
    if (error.code === "FST_ERR_CTP_INVALID_MEDIA_TYPE")
      return answerProblem(reply, "not-json", error.message);
    if (error.statusCode !== undefined && error.statusCode < 500)
      return answerProblem(reply, "body-not-understood", error.message);
    if (error.code !== undefined && error.code in problems)
      return answerProblem(reply, error.code as ProblemCode, error.message);
    return answerProblem(reply, "internal", "See the gateway's log.");
  });
  server.setNotFoundHandler((request, reply) =>
    answerProblem(reply, "not-found", `${request.method} ${request.url.slice(0, 200)}`),
  );
  server.addHook("onRequest", async (request, reply) => {
    reply.headers({
      "x-content-type-options": "nosniff",
      "referrer-policy": "no-referrer",
      "content-security-policy":
        "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; frame-ancestors 'none'",
    });
    // A page of another name that resolves to this machine must not read it.
    if (!isLoopback(request.hostname.replace(/^\[|\]$/g, "")))
      throw new Refusal("host-not-allowed", request.hostname.slice(0, 100));
    if (request.method === "GET" || request.method === "HEAD") return;
    const { origin } = request.headers;
    if (origin !== undefined && origin !== `http://${request.headers.host}`)
      throw new Refusal("origin-not-allowed", origin.slice(0, 100));
  });

  server.get("/healthz", async () => ({ alive: true }));
  server.get("/readyz", async (_request, reply) => {
    if (!components.ready()) return answerProblem(reply, "not-ready", "Not ready.");
    return { ready: true };
  });
  server.get("/metrics", async (_request, reply) =>
    reply
      .type("application/openmetrics-text; version=1.0.0; charset=utf-8")
      .send(openMetricsText(components.metrics())),
  );
  server.get("/api/docs", async () => openApiDocument());

  server.get("/api/line", async () => {
    const view = components.lineView();
    if (!view) throw new Refusal("not-ready", "No line is in force yet.");
    return view;
  });

  type SeriesRequest = FastifyRequest<{
    Params: { id: string };
    Querystring: Record<string, string | undefined>;
  }>;
  const seriesOf = (kind: "point" | "drum") => async (request: SeriesRequest) => {
    const { id } = request.params;
    const line = components.line();
    const known = kind === "point" ? line?.points : line?.drums;
    if (!known?.some((candidate) => candidate.id === id))
      throw new Refusal("point-unknown", `There is no ${kind} ${id}.`);
    const quantity = request.query.quantity ?? (kind === "point" ? "conductivity25" : "volume");
    if (!Object.hasOwn(quantityUnits, quantity))
      throw new Refusal(
        "query-not-understood",
        `quantity must be one of ${Object.keys(quantityUnits).join(", ")}.`,
      );
    const to = timeOf(request.query.to, components.now(), "to");
    const from = timeOf(request.query.from, to - 6 * 3_600_000, "from");
    if (!(from < to)) throw new Refusal("query-not-understood", "from must be before to.");
    const buckets = wholeOf(request.query.buckets, 300, 1, 2000, "buckets");
    const subject = quantity === "flow" && kind === "point" ? "flow" : kind;
    return {
      unit: quantityUnits[quantity as keyof typeof quantityUnits],
      ...(await components.series.buckets(`${subject}/${id}/${quantity}`, from, to, buckets)),
    };
  };
  server.get("/api/points/:id/series", seriesOf("point"));
  server.get("/api/drums/:id/series", seriesOf("drum"));

  server.get("/api/alarms", async () => ({ items: components.standing().map(alarmView), next: null }));
  server.get<{ Querystring: Record<string, string | undefined> }>("/api/alarms/journal", async (request) => {
    const limit = wholeOf(request.query.limit, 200, 1, 1000, "limit");
    const before =
      request.query.after === undefined
        ? undefined
        : wholeOf(request.query.after, 0, 0, Number.MAX_SAFE_INTEGER, "after");
    const rows = components.alarmChanges(limit, before);
    return {
      items: rows.map(({ change }) => alarmChangeView(change)),
      next: rows.length === limit ? String(rows.at(-1)?.place) : null,
    };
  });

  for (const type of [
    "acknowledge",
    "shelve",
    "unshelve",
    "reset",
    "out-of-service",
    "in-service",
  ] as const) {
    server.post<{ Params: { key: string } }>(`/api/alarms/:key/${type}`, async (request) => {
      const body = parse(alarmActSchema, request.body);
      const common = {
        key: request.params.key,
        occurrence: body.occurrence,
        ...(body.note ? { note: body.note } : {}),
      };
      if (type === "shelve" && body.minutes === undefined)
        throw new Refusal("body-not-understood", "minutes: say for how long.");
      const act: GivenAct =
        type === "shelve"
          ? {
              type,
              ...common,
              untilMs: components.now() + (body.minutes ?? 0) * 60_000,
              oneShot: body.oneShot === true,
            }
          : { type, ...common };
      const refused = await components.act(act);
      if (refused) throw new Refusal(refused.code, refused.message);
      return { items: components.standing().map(alarmView), next: null };
    });
  }

  server.get("/api/compute", async () => ({ items: formulas.map(formulaView), next: null }));
  server.post<{ Params: { formula: string } }>("/api/compute/:formula", async (request) => {
    const body = parse(computeBodySchema, request.body);
    const computed = compute(request.params.formula, body);
    if (!computed.ok) throw new Refusal(computed.code, computed.message);
    return { formula: request.params.formula, values: computed.values, units: computed.units };
  });

  server.get("/api/nodes", async () => ({ items: components.lineView()?.nodes ?? [], next: null }));
  server.get("/api/rejections", async () => ({
    items: components.rejections().map((rejection) => ({
      code: rejection.code,
      title: everyCode[rejection.code]?.title ?? rejection.code,
      todo: everyCode[rejection.code]?.todo ?? "",
      node: rejection.node,
      count: rejection.count,
      lastAt: iso(rejection.lastAtMs),
      examples: rejection.examples.map(({ atMs, topic, detail, example }) => ({
        at: iso(atMs),
        topic,
        detail,
        example,
      })),
    })),
    next: null,
  }));

  server.get<{ Querystring: Record<string, string | undefined> }>("/api/live", (request, reply) => {
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

  if (options.pages !== null && existsSync(options.pages))
    await server.register(fastifyStatic, { root: options.pages, cacheControl: true, maxAge: 0 });

  await server.listen({ host: options.host, port: options.port });
  const address = server.server.address();
  return {
    port: typeof address === "object" && address ? address.port : options.port,
    async stop(): Promise<void> {
      for (const end of streams) end();
      await server.close();
    },
  };
}
