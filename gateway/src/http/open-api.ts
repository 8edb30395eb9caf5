import { z } from "zod";
import { formulas } from "../water/index.ts";
import {
  alarmActSchema,
  alarmJournalSchema,
  alarmListSchema,
  auditListSchema,
  bucketsSchema,
  calibrationSchema,
  computeBodySchema,
  computedSchema,
  drumFillSchema,
  enteredListSchema,
  fillListSchema,
  fillSchema,
  formulaListSchema,
  lineSchema,
  mediumChangeSchema,
  meSchema,
  newNodeSecretSchema,
  newPersonSchema,
  newTokenBodySchema,
  newTokenSchema,
  nodeListSchema,
  noteSchema,
  passwordChangeSchema,
  personListSchema,
  problemSchema,
  proofTestSchema,
  rejectionListSchema,
  releaseSchema,
  roleBodySchema,
  setUpSchema,
  signInSchema,
  tokenListSchema,
  workOnSchema,
} from "./contract.ts";
import { formulaView } from "./formula-view.ts";
import { everyCode } from "./problems.ts";

/** Who may make a call; `viewer-or-loopback` is also open to programs on the gateway's own machine. */
export type NeededRole = "open" | "viewer-or-loopback" | "viewer" | "operator";

interface Call {
  readonly method: "get" | "post" | "delete";
  readonly path: string;
  readonly role: NeededRole;
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
  { method: "get", path: "/healthz", role: "open", summary: "Alive", answer: null },
  {
    method: "get",
    path: "/readyz",
    role: "open",
    summary: "503 while starting, stopping or unable to append",
    answer: null,
  },
  { method: "get", path: "/metrics", role: "viewer-or-loopback", summary: "OpenMetrics", answer: null },
  { method: "get", path: "/api/line", role: "viewer", summary: "The line as it is now", answer: lineSchema },
  {
    method: "get",
    path: "/api/points/{id}/series",
    role: "viewer",
    summary: "A point's series in buckets",
    answer: bucketsSchema,
    query: series,
  },
  {
    method: "get",
    path: "/api/drums/{id}/series",
    role: "viewer",
    summary: "A drum's series in buckets",
    answer: bucketsSchema,
    query: series,
  },
  {
    method: "get",
    path: "/api/live",
    role: "viewer",
    summary: "Live stream (SSE): snapshot, then point, drum, node, alarm",
    answer: null,
    query: { points: "ids, comma between", every: '"250ms", "1s" or 0' },
  },
  {
    method: "get",
    path: "/api/alarms",
    role: "viewer",
    summary: "Alarms that are not at rest",
    answer: alarmListSchema,
  },
  {
    method: "get",
    path: "/api/alarms/journal",
    role: "viewer",
    summary: "Changes of alarms, newest first",
    answer: alarmJournalSchema,
    query: { after: "next of the page before", limit: "1 to 1000, default 200" },
  },
  ...["acknowledge", "shelve", "unshelve", "reset", "out-of-service", "in-service"].map(
    (act): Call => ({
      method: "post",
      path: `/api/alarms/{key}/${act}`,
      role: "operator",
      summary: `Act on one occurrence: ${act}`,
      answer: alarmListSchema,
      body: alarmActSchema,
    }),
  ),
  {
    method: "get",
    path: "/api/fills",
    role: "viewer",
    summary: "Fills, newest first",
    answer: fillListSchema,
    query: {
      drum: "of one drum",
      from: "began at or after",
      to: "began before",
      after: "next of the page before",
      limit: "1 to 1000, default 200",
    },
  },
  { method: "get", path: "/api/fills/{id}", role: "viewer", summary: "One fill", answer: fillSchema },
  {
    method: "post",
    path: "/api/drums/{id}/release",
    role: "operator",
    summary: "A person answers for the drum's water: ends its hold",
    answer: lineSchema,
    body: releaseSchema,
  },
  {
    method: "post",
    path: "/api/drums/{id}/fill",
    role: "operator",
    summary: "A fill by hand begins or ends",
    answer: lineSchema,
    body: drumFillSchema,
  },
  ...(
    [
      ["calibrations", "Calibrations of channels", calibrationSchema],
      ["media", "Changes of a stage's medium", mediumChangeSchema],
      ["proof-tests", "Proof tests of floats", proofTestSchema],
      ["notes", "Notes", noteSchema],
    ] as const
  ).flatMap(([name, summary, body]): Call[] => [
    {
      method: "get",
      path: `/api/${name}`,
      role: "viewer",
      summary: `${summary}, newest first`,
      answer: enteredListSchema,
      query: { after: "next of the page before", limit: "1 to 1000, default 200" },
    },
    {
      method: "post",
      path: `/api/${name}`,
      role: "operator",
      summary: `${summary}: enters one`,
      answer: enteredListSchema,
      body,
    },
  ]),
  {
    method: "post",
    path: "/api/work",
    role: "operator",
    summary: "Somebody works on a stage or drum: what that can cause is silent for the time",
    answer: enteredListSchema,
    body: workOnSchema,
  },
  {
    method: "get",
    path: "/api/compute",
    role: "viewer",
    summary: "Every formula: inputs, units, ranges, source",
    answer: formulaListSchema,
  },
  {
    method: "post",
    path: "/api/compute/{formula}",
    role: "viewer",
    summary: "Runs one formula",
    answer: computedSchema,
    body: computeBodySchema,
  },
  {
    method: "get",
    path: "/api/nodes",
    role: "viewer",
    summary: "Nodes: presence, counters, unassigned channels",
    answer: nodeListSchema,
  },
  {
    method: "get",
    path: "/api/rejections",
    role: "viewer",
    summary: "What was refused, by name, with examples",
    answer: rejectionListSchema,
  },
  {
    method: "get",
    path: "/api/me",
    role: "open",
    summary: "Who is signed in, and whether the first account is still to be made",
    answer: meSchema,
  },
  {
    method: "post",
    path: "/api/set-up",
    role: "open",
    summary: "Makes the first account, an operator, with the code that the gateway printed; signs in",
    answer: meSchema,
    body: setUpSchema,
  },
  {
    method: "post",
    path: "/api/sign-in",
    role: "open",
    summary: "Begins a session (cookie)",
    answer: meSchema,
    body: signInSchema,
  },
  { method: "post", path: "/api/sign-out", role: "viewer", summary: "Ends the session", answer: meSchema },
  {
    method: "post",
    path: "/api/me/password",
    role: "viewer",
    summary: "Changes the own password; ends every session but begins a new one here",
    answer: meSchema,
    body: passwordChangeSchema,
  },
  { method: "get", path: "/api/people", role: "operator", summary: "People", answer: personListSchema },
  {
    method: "post",
    path: "/api/people",
    role: "operator",
    summary: "Adds a person",
    answer: personListSchema,
    body: newPersonSchema,
  },
  {
    method: "post",
    path: "/api/people/{name}/role",
    role: "operator",
    summary: "Gives a person another role",
    answer: personListSchema,
    body: roleBodySchema,
  },
  {
    method: "delete",
    path: "/api/people/{name}",
    role: "operator",
    summary: "Removes a person and ends their sessions",
    answer: personListSchema,
  },
  {
    method: "get",
    path: "/api/tokens",
    role: "operator",
    summary: "Programs' tokens",
    answer: tokenListSchema,
  },
  {
    method: "post",
    path: "/api/tokens",
    role: "operator",
    summary: "Makes a program's token, shown once",
    answer: newTokenSchema,
    body: newTokenBodySchema,
  },
  {
    method: "delete",
    path: "/api/tokens/{name}",
    role: "operator",
    summary: "Revokes a token",
    answer: tokenListSchema,
  },
  {
    method: "post",
    path: "/api/nodes/{id}/credentials",
    role: "operator",
    summary: "Adds a node or gives it a new secret, shown once; a session with the old one is dropped",
    answer: newNodeSecretSchema,
  },
  {
    method: "delete",
    path: "/api/nodes/{id}/credentials",
    role: "operator",
    summary: "Takes a node's right away; its session is dropped",
    answer: nodeListSchema,
  },
  {
    method: "get",
    path: "/api/audit",
    role: "operator",
    summary: "Who did what, newest first, with before and after",
    answer: auditListSchema,
    query: { after: "next of the page before", limit: "1 to 1000, default 200" },
  },
  { method: "get", path: "/api/docs", role: "viewer", summary: "This document", answer: null },
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
      "x-role": call.role,
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
