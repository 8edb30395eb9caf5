import { z } from "zod";
import { formulas } from "../water/index.ts";
import type { Call } from "./call.ts";
import { calls } from "./calls.ts";
import { problemSchema } from "./contract.ts";
import { formulaView } from "./formula-view.ts";
import { everyCode } from "./problems.ts";

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
    const { inputs, outputs, words } = formulaView(formula);
    const found = words.length > 0 ? ` Found by: ${words.join(", ")}.` : "";
    paths[`/api/compute/${formula.id}`] = {
      post: {
        summary: formula.title,
        description: `${formula.holds} Source: ${formula.source}.${found}`,
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
