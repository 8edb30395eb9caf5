import type { FastifyInstance } from "fastify";
import { type Act, type ActKind, acts } from "../../acts/index.ts";
import type { HttpComponents } from "../components.ts";
import { signedBy } from "../gate.ts";
import { giveAct } from "../give-act.ts";
import { bodyOf, type Query, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { alarmView, iso } from "../views.ts";

type Params = Readonly<Record<string, string>>;

/** People's clocks differ by this; what is entered for longer ahead is a slip of the year. */
const maxAheadMs = 5 * 60_000;
/** Nothing was entered before: a year with two digits, or none at all. */
const earliestMs = Date.UTC(2000, 0, 1);

/** Throws Refusal `body-not-understood` where an act is to be valid from a time that can't be meant. */
function requireLikelyTime({ validFromMs }: { readonly validFromMs?: number }, nowMs: number): void {
  if (validFromMs === undefined || (validFromMs >= earliestMs && validFromMs <= nowMs + maxAheadMs)) return;
  const why = validFromMs < earliestMs ? "lies before the year 2000" : "lies in the future";
  throw new Refusal("body-not-understood", `validFrom: ${iso(validFromMs)} ${why}.`);
}

/** Acts of a kind that were taken, newest first. */
function listOf({ types }: ActKind<Act>, { actsOf }: HttpComponents, limit: number, before?: number) {
  const rows = actsOf(types[0] as Act["type"], limit, before);
  return {
    items: rows.map(({ act, atMs }) => {
      const { type: _, validFromMs, isExact: _exact, ...rest } = act;
      return { ...rest, at: iso(atMs), validFrom: iso(validFromMs ?? atMs) };
    }),
    next: rows.length === limit ? String(rows.at(-1)?.place) : null,
  };
}

/** What the call of an act that was taken gives back. */
function answerOf(kind: ActKind<Act>, components: HttpComponents): unknown {
  switch (kind.answer) {
    case "entered":
      return listOf(kind, components, 200);
    case "alarms":
      return { items: components.standing().map(alarmView), next: null };
    case "line": {
      const view = components.lineView();
      if (!view) throw new Refusal("not-ready", "No line is in force yet.");
      return view;
    }
    case "nothing":
      return { items: [], next: null };
  }
}

/** The call of each kind of act, and the list of those that are entered. */
export function actRoutes(server: FastifyInstance, components: HttpComponents): void {
  for (const kind of acts) {
    const path = kind.path.replace(/\{(\w+)\}/g, ":$1");
    server.post<{ Params: Params }>(path, async (request) => {
      const body = bodyOf(kind.schema, request.body);
      const given = kind.given({ body, params: request.params, nowMs: components.now() });
      requireLikelyTime(given, components.now());
      await giveAct(components, given, signedBy(request));
      return answerOf(kind, components);
    });
    if (kind.list === null) continue;
    server.get<{ Querystring: Query }>(path, async (request) => {
      const limit = wholeOf("limit", request.query.limit, { otherwise: 200, min: 1, max: 1000 });
      const { after } = request.query;
      const before =
        after === undefined
          ? undefined
          : wholeOf("after", after, { otherwise: 0, min: 0, max: Number.MAX_SAFE_INTEGER });
      return listOf(kind, components, limit, before);
    });
  }
}
