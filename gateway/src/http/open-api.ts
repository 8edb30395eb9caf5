import { z } from "zod";
import { formulas } from "../water/index.ts";
import {
  alarmActSchema,
  alarmJournalSchema,
  alarmListSchema,
  bucketsSchema,
  computeBodySchema,
  computedSchema,
  formulaListSchema,
  lineSchema,
  nodeListSchema,
  problemSchema,
  rejectionListSchema,
} from "./contract.ts";
import { formulaView } from "./formula-view.ts";
import { everyCode } from "./problems.ts";

interface Call {
  readonly method: "get" | "post";
  readonly path: string;
  readonly summary: string;
  readonly answer: z.ZodType | null;
  readonly body?: z.ZodType;
  readonly query?: Readonly<Record<string, string>>;
}

const series = {
  quantity: "conductivity25 (default), conductivity, temperature, salinity, flow, volume …",
  from: "ISO 8601 or epoch ms",
  to: "ISO 8601 or epoch ms",
  buckets: "1 to 2000, default 300",
};

/** Every call of the API, for the document and for the test that holds it to the routes. */
export const calls: readonly Call[] = [
  { method: "get", path: "/healthz", summary: "Alive", answer: null },
  {
    method: "get",
    path: "/readyz",
    summary: "503 while starting, stopping or unable to append",
    answer: null,
  },
  { method: "get", path: "/metrics", summary: "OpenMetrics", answer: null },
  { method: "get", path: "/api/line", summary: "The line as it is now", answer: lineSchema },
  {
    method: "get",
    path: "/api/points/{id}/series",
    summary: "A point's series in buckets",
    answer: bucketsSchema,
    query: series,
  },
  {
    method: "get",
    path: "/api/drums/{id}/series",
    summary: "A drum's series in buckets",
    answer: bucketsSchema,
    query: series,
  },
  {
    method: "get",
    path: "/api/live",
    summary: "Live stream (SSE): snapshot, then point, drum, node, alarm",
    answer: null,
    query: { points: "ids, comma between", every: '"250ms", "1s" or 0' },
  },
  { method: "get", path: "/api/alarms", summary: "Alarms that are not at rest", answer: alarmListSchema },
  {
    method: "get",
    path: "/api/alarms/journal",
    summary: "Changes of alarms, newest first",
    answer: alarmJournalSchema,
    query: { after: "next of the page before", limit: "1 to 1000, default 200" },
  },
  ...["acknowledge", "shelve", "unshelve", "reset", "out-of-service", "in-service"].map(
    (act): Call => ({
      method: "post",
      path: `/api/alarms/{key}/${act}`,
      summary: `Act on one occurrence: ${act}`,
      answer: alarmListSchema,
      body: alarmActSchema,
    }),
  ),
  {
    method: "get",
    path: "/api/compute",
    summary: "Every formula: inputs, units, ranges, source",
    answer: formulaListSchema,
  },
  {
    method: "post",
    path: "/api/compute/{formula}",
    summary: "Runs one formula",
    answer: computedSchema,
    body: computeBodySchema,
  },
  {
    method: "get",
    path: "/api/nodes",
    summary: "Nodes: presence, counters, unassigned channels",
    answer: nodeListSchema,
  },
  {
    method: "get",
    path: "/api/rejections",
    summary: "What was refused, by name, with examples",
    answer: rejectionListSchema,
  },
  { method: "get", path: "/api/docs", summary: "This document", answer: null },
];

function parametersOf(call: Call): unknown[] {
  const inPath = [...call.path.matchAll(/\{(\w+)\}/g)].map(([, name]) => ({
    name,
    in: "path",
    required: true,
    schema: { type: "string" },
  }));
  const inQuery = Object.entries(call.query ?? {}).map(([name, description]) => ({
    name,
    in: "query",
    description,
    schema: { type: "string" },
  }));
  return [...inPath, ...inQuery];
}

function json(schema: z.ZodType): unknown {
  return {
    content: {
      "application/json": { schema: z.toJSONSchema(schema, { target: "draft-2020-12", io: "output" }) },
    },
  };
}

/** The OpenAPI 3.1 document, made from the schemas that validate. */
export function openApiDocument(): unknown {
  const paths: Record<string, Record<string, unknown>> = {};
  for (const call of calls) {
    paths[call.path] ??= {};
    (paths[call.path] as Record<string, unknown>)[call.method] = {
      summary: call.summary,
      parameters: parametersOf(call),
      ...(call.body ? { requestBody: { required: true, ...(json(call.body) as object) } } : {}),
      responses: {
        200: { description: "Good", ...(call.answer ? (json(call.answer) as object) : {}) },
        default: {
          description: "RFC 9457 problem with a stable code",
          content: { "application/problem+json": { schema: z.toJSONSchema(problemSchema) } },
        },
      },
    };
  }
  for (const formula of formulas) {
    const { inputs, outputs } = formulaView(formula);
    paths[`/api/compute/${formula.id}`] = {
      post: {
        summary: formula.title,
        description: `${formula.holds} Source: ${formula.source}.`,
        requestBody: { required: true, content: { "application/json": { schema: inputs } } },
        responses: {
          200: {
            description: "Good",
            content: {
              "application/json": {
                schema: {
                  type: "object",
                  properties: {
                    formula: { const: formula.id },
                    values: outputs,
                    units: { type: "object", additionalProperties: { type: "string" } },
                  },
                },
              },
            },
          },
        },
      },
    };
  }
  return { openapi: "3.1.0", info: { title: "Drumlin", version: "1" }, paths, "x-codes": everyCode };
}
