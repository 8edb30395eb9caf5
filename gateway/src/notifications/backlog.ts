/** A message that waits, as far as the order goes. Times are engine time. */
export interface Waiting {
  readonly id: string;
  readonly madeMs: number;
  readonly nextMs: number;
  readonly tries: number;
  readonly wakes: boolean;
  readonly list: string | null;
}

/** What is tried now, and what goes into it: messages that nobody has tried to deliver yet. */
export interface Picked {
  readonly id: string;
  readonly absorbs: readonly string[];
}

/** A message that is refused again and again holds up the others for no longer. */
const holdsForMs = 3_600_000;

const byUrgency = (a: Waiting, b: Waiting): number =>
  Number(b.wakes) - Number(a.wakes) || a.nextMs - b.nextMs;

/** What has not been tried yet, as one message; a morning list stays one of its own. */
function fresh(waiting: readonly Waiting[]): { readonly picked: Picked; readonly wakes: boolean } | null {
  const untried = waiting.filter(({ tries }) => tries === 0);
  const news = untried.filter(({ list }) => list === null);
  const [first, ...others] = news.length > 0 ? news : untried.slice(0, 1);
  if (!first) return null;
  return {
    picked: { id: first.id, absorbs: others.map(({ id }) => id) },
    wakes: news.some(({ wakes }) => wakes),
  };
}

/**
 * Which of the messages that wait for one destination, oldest first, is tried now; null: none. While a try has just
 * failed, what is new waits for the next one and then goes out as one message: a way that comes back after a night brings
 * no flood. What wakes waits only behind what wakes.
 */
export function pick(waiting: readonly Waiting[], nowMs: number, gathers: boolean): Picked | null {
  const due = waiting.filter(({ nextMs }) => nextMs <= nowMs).sort(byUrgency);
  if (!gathers) return due[0] ? { id: due[0].id, absorbs: [] } : null;
  const again = due.find(({ tries }) => tries > 0);
  const news = fresh(waiting);
  if (again && (again.wakes || !news?.wakes)) return { id: again.id, absorbs: [] };
  if (!news) return null;
  const isHeld = waiting.some(
    ({ tries, nextMs, madeMs, wakes }) =>
      tries > 0 && nextMs > nowMs && nowMs - madeMs < holdsForMs && (wakes || !news.wakes),
  );
  return isHeld ? null : news.picked;
}
