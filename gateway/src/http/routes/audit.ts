import type { FastifyInstance } from "fastify";
import type { AuditEntry } from "../../accounts/index.ts";
import { subjectOfAct } from "../../acts/index.ts";
import type { ActRecord } from "../../logbook/index.ts";
import type { HttpComponents } from "../components.ts";
import { inPieces, rowsInPieces } from "../long-list.ts";
import { type Query, wholeOf } from "../read-request.ts";
import { Refusal } from "../refusal.ts";
import { iso } from "../views.ts";

function accountView({ atMs, by, what, subject, before, after }: AuditEntry) {
  return { at: iso(atMs), by, what, subject, refused: null, before, after };
}

function actView({ act, atMs, refused, changes }: ActRecord) {
  const { id: _id, by, type, ...entered } = act;
  const first = changes[0];
  const last = changes.at(-1);
  return {
    at: iso(atMs),
    by,
    what: type,
    subject: subjectOfAct(act),
    refused,
    before: first ? { state: first.from } : null,
    after: { ...entered, ...(last ? { state: last.to } : {}) },
  };
}

interface AccountRow {
  readonly atMs: number;
  readonly account: number;
  readonly view: ReturnType<typeof accountView>;
}
interface ActRow {
  readonly atMs: number;
  readonly act: number;
  readonly view: ReturnType<typeof actView>;
}

const newest = "999999999999999-999999999999999";

/** What people and programs did: acts on the line, and changes of accounts, in one list. */
export function auditRoutes(server: FastifyInstance, components: HttpComponents): void {
  server.get<{ Querystring: Query }>("/api/audit", async (request) => {
    const limit = wholeOf("limit", request.query.limit, { otherwise: 200, min: 1, max: 1000 });
    const match = /^(\d{1,15})-(\d{1,15})$/.exec(request.query.after ?? newest);
    if (!match) throw new Refusal("query-not-understood", "after must be the next of the page before.");
    const start = { account: Number(match[1]), act: Number(match[2]) };
    // Each list has its own places: the cursor keeps one of each.
    const accountsAfter = (count: number, last: AccountRow | undefined): readonly AccountRow[] =>
      components.accounts
        .audit(count, last?.account ?? start.account)
        .map((entry) => ({ atMs: entry.atMs, account: entry.place, view: accountView(entry) }));
    const actsAfter = (count: number, last: ActRow | undefined): readonly ActRow[] =>
      components
        .acts(count, last?.act ?? start.act)
        .map((record) => ({ atMs: record.atMs, act: record.place, view: actView(record) }));
    const merged = await inPieces(request, async (piece) => [
      ...(await rowsInPieces(piece, limit, accountsAfter)),
      ...(await rowsInPieces(piece, limit, actsAfter)),
    ]);
    const page = merged.sort((a, b) => b.atMs - a.atMs).slice(0, limit);
    const next = {
      account: page.findLast((item) => "account" in item)?.account ?? start.account,
      act: page.findLast((item) => "act" in item)?.act ?? start.act,
    };
    return {
      items: page.map(({ view }) => view),
      next: page.length === limit ? `${next.account}-${next.act}` : null,
    };
  });
}
