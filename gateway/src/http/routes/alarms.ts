import type { FastifyInstance } from "fastify";
import { type AlarmChange, alarmFigures, figuresSentence } from "../../alarms/index.ts";
import type { HttpComponents } from "../components.ts";
import { inPieces, longList } from "../long-list.ts";
import { type Query, wholeOf } from "../read-request.ts";
import { alarmChangeView, alarmView, iso } from "../views.ts";

const silentStates: ReadonlySet<string> = new Set(["shelved", "suppressed-by-design", "out-of-service"]);
const silencing: ReadonlySet<string> = new Set(["shelve", "out-of-service"]);
/** Acts among which the one that silenced an alarm is looked for. */
const maxActs = 1000;
const dayMs = 86_400_000;
/** So much of the journal is read in one turn of the event loop for its figures. */
const readAtOnceMs = 7 * dayMs;

/** Alarms that stand, and their journal. */
export function alarmsRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get("/api/alarms", async () => ({ items: components.standing().map(alarmView), next: null }));
  server.get<{ Querystring: Query }>("/api/alarms/kpi", async (request) => {
    const days = wholeOf("days", request.query.days, { otherwise: 7, min: 1, max: 92 });
    const toMs = components.now();
    const fromMs = toMs - days * dayMs;
    const figures = await inPieces(request, async (piece) => {
      const changes: AlarmChange[] = [];
      for (let atMs = fromMs; atMs <= toMs; atMs += readAtOnceMs)
        changes.push(
          ...(await piece(() => components.alarmChangesIn(atMs, Math.min(toMs + 1, atMs + readAtOnceMs)))),
        );
      return piece(() => alarmFigures(changes, components.standing(), { fromMs, toMs }));
    });
    const { fromMs: _from, toMs: _to, medianUntilSeenMs, ...rest } = figures;
    return {
      from: iso(fromMs),
      to: iso(toMs),
      ...rest,
      medianUntilSeen: medianUntilSeenMs === null ? null : medianUntilSeenMs / 1000,
      sentence: figuresSentence(figures),
    };
  });
  server.get("/api/alarms/silences", async () => {
    const lastActs = components.acts(maxActs);
    const items = components.standing().filter(({ state }) => silentStates.has(state));
    return {
      items: items.map(({ key, occurrence, state, shelvedUntilMs }) => {
        const given = lastActs.find(({ act }) => "key" in act && act.key === key && silencing.has(act.type));
        return {
          key,
          occurrence,
          state,
          until: iso(shelvedUntilMs),
          since: iso(given?.atMs ?? null),
          by: given?.act.by ?? null,
          reason: given?.act.note ?? null,
        };
      }),
      next: null,
    };
  });
  server.get<{ Querystring: Query }>("/api/alarms/journal", async (request) => {
    const limit = wholeOf("limit", request.query.limit, { otherwise: 200, min: 1, max: 1000 });
    const before =
      request.query.after === undefined
        ? undefined
        : wholeOf("after", request.query.after, { otherwise: 0, min: 0, max: Number.MAX_SAFE_INTEGER });
    const page = (count: number, last: { readonly place: number } | undefined) =>
      components.alarmChanges(count, last?.place ?? before);
    const rows = await longList(request, limit, page);
    return {
      items: rows.map(({ change }) => alarmChangeView(change)),
      next: rows.length === limit ? String(rows.at(-1)?.place) : null,
    };
  });
}
