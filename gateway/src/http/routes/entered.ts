import type { FastifyInstance } from "fastify";
import type { z } from "zod";
import type { Act } from "../../acts/index.ts";
import {
  calibrationSchema,
  mediumChangeSchema,
  noteSchema,
  proofTestSchema,
  workOnSchema,
} from "../bodies.ts";
import type { GivenAct, HttpComponents } from "../components.ts";
import { signedBy } from "../gate.ts";
import { bodyOf, type Query, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { iso } from "../views.ts";

const entered = {
  calibrations: { type: "calibration", schema: calibrationSchema },
  media: { type: "medium-change", schema: mediumChangeSchema },
  "proof-tests": { type: "proof-test", schema: proofTestSchema },
  notes: { type: "note", schema: noteSchema },
} as const satisfies Record<string, { readonly type: Act["type"]; readonly schema: z.ZodType }>;

/** What people enter: calibrations, changes of a medium, proof tests, notes; and that somebody works on a thing. */
export function enteredRoutes(server: FastifyInstance, components: HttpComponents): void {
  const listOf = (type: Act["type"], limit: number, before?: number) => {
    const rows = components.actsOf(type, limit, before);
    return {
      items: rows.map(({ act, atMs }) => {
        const { type: _, validFromMs, ...rest } = act;
        return { ...rest, at: iso(atMs), validFrom: iso(validFromMs ?? atMs) };
      }),
      next: rows.length === limit ? String(rows.at(-1)?.place) : null,
    };
  };
  async function act(given: GivenAct, by: string): Promise<void> {
    const refused = await components.act(given, by);
    if (refused) throw new Refusal(refused.code, refused.message);
  }

  for (const [name, { type, schema }] of Object.entries(entered)) {
    server.get<{ Querystring: Query }>(`/api/${name}`, async (request) => {
      const limit = wholeOf(request.query.limit, 200, 1, 1000, "limit");
      const { after } = request.query;
      return listOf(
        type,
        limit,
        after === undefined ? undefined : wholeOf(after, 0, 0, Number.MAX_SAFE_INTEGER, "after"),
      );
    });
    server.post(`/api/${name}`, async (request) => {
      const { validFrom, ...given } = bodyOf(schema as z.ZodObject, request.body) as { validFrom?: string };
      const times = validFrom === undefined ? {} : { validFromMs: Date.parse(validFrom) };
      await act({ type, ...given, ...times } as GivenAct, signedBy(request));
      return listOf(type, 200);
    });
  }
  server.post("/api/work", async (request) => {
    const { kind, id, minutes } = bodyOf(workOnSchema, request.body);
    await act(
      { type: "work-on", subject: { kind, id }, untilMs: components.now() + minutes * 60_000 },
      signedBy(request),
    );
    return { items: [], next: null };
  });
}
