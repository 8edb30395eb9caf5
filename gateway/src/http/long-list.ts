import type { FastifyRequest } from "fastify";
import type { Piece } from "./share-main-thread.ts";

/** Rows that are read and made ready in one turn of the event loop. */
const rowsAtOnce = 200;

/** Does a long list of this request piece by piece. */
export function inPieces<Result>(
  request: FastifyRequest,
  work: (piece: Piece) => Promise<Result>,
): Promise<Result> {
  if (!request.inPieces) throw new Error("A long list is given by a handler, after the hooks.");
  return request.inPieces(work);
}

/**
 * A list of at most `limit` rows, read some at a time: `page` gives the next `count` rows after the one that was given
 * last, `after` (undefined at first), and fewer only where there are no more.
 */
export async function rowsInPieces<Row>(
  piece: Piece,
  limit: number,
  page: (count: number, after: Row | undefined) => readonly Row[],
  atOnce = rowsAtOnce,
): Promise<readonly Row[]> {
  const rows: Row[] = [];
  for (;;) {
    const count = Math.min(atOnce, limit - rows.length);
    const next = await piece(() => page(count, rows.at(-1)));
    rows.push(...next);
    if (next.length < count || rows.length >= limit) return rows;
  }
}

/** `rowsInPieces` of this request. */
export function longList<Row>(
  request: FastifyRequest,
  limit: number,
  page: (count: number, after: Row | undefined) => readonly Row[],
  atOnce = rowsAtOnce,
): Promise<readonly Row[]> {
  return inPieces(request, (piece) => rowsInPieces(piece, limit, page, atOnce));
}
