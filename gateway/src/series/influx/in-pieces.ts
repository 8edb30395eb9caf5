/** Pieces that are under way at once: while the server stores one, the next is made and on its way. */
const underWayAtOnce = 2;

/** What is to be written: items [from, size). */
export interface Pieces {
  readonly from: number;
  readonly size: number;
  /** Items of the next piece. */
  readonly atOnce: () => number;
  /** Whether another piece is begun; asked after the first one. */
  readonly goesOn: () => boolean;
}

/** How far it came: all items before `written` are there. */
export interface InPieces<Done> {
  readonly written: number;
  /** What the pieces before `written` gave, in order. */
  readonly done: readonly Done[];
  /** What the first piece that failed threw; null when all are there. */
  readonly failure: { readonly thrown: unknown } | null;
}

/**
 * Writes items piece by piece, two under way, for items that no two pieces have in common. Resolves once nothing is under way
 * any more, also after a failure: what comes next must not be overtaken by what came before. Where it does not go on, that what
 * was begun is there.
 */
export async function inPieces<Done>(
  { from, size, atOnce, goesOn }: Pieces,
  write: (from: number, to: number) => Promise<Done>,
): Promise<InPieces<Done>> {
  const underWay: { readonly to: number; readonly piece: Promise<Done> }[] = [];
  const done: Done[] = [];
  let [written, at] = [from, from];
  try {
    while (written < size) {
      while (at < size && underWay.length < underWayAtOnce && (at === from || goesOn())) {
        const to = Math.min(size, at + atOnce());
        const piece = write(at, to);
        // Looked at in its turn.
        piece.catch(() => {});
        underWay.push({ to, piece });
        at = to;
      }
      const [first] = underWay;
      if (!first) break;
      const { to, piece } = first;
      done.push(await piece);
      underWay.shift();
      written = to;
    }
    return { written, done, failure: null };
  } catch (thrown) {
    await Promise.allSettled(underWay.map(({ piece }) => piece));
    return { written, done, failure: { thrown } };
  }
}
