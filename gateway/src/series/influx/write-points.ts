import type { InfluxClient } from "./influx-client.ts";
import { type InfluxError, influxOutcomes, outcomeOf } from "./influx-outcome.ts";
import type { SetAsides } from "./set-aside.ts";

/** Requests that are spent on telling the bad points of one piece from the good ones. */
const maxRequests = 96;

const timeOf = (line: string) => Number(line.slice(line.lastIndexOf(" ") + 1));
const measurementOf = (line: string) => line.slice(0, line.indexOf(","));

/** The lines in two groups, so that what is refused soon stands alone. */
function parted(lines: readonly string[], { code, said }: InfluxError): [string[], string[]] {
  if (code === "influx-type-conflict") {
    // A field has its type for a whole measurement.
    const named = /on measurement \\?"([^"\\]+)/.exec(said)?.[1];
    const [of, others] = [
      lines.filter((line) => measurementOf(line) === named),
      lines.filter((line) => measurementOf(line) !== named),
    ];
    if (of.length > 0 && others.length > 0) return [of, others];
  }
  // By time: what is too old, or lies in a shard with another type, then stands together.
  const inOrder = lines.toSorted((a, b) => timeOf(a) - timeOf(b));
  const middle = inOrder.length >> 1;
  return [inOrder.slice(0, middle), inOrder.slice(middle)];
}

/**
 * Writes lines, all that the server takes: those that it refuses for what they are are told apart by halving, within bounds,
 * and set aside. Writing a line again changes nothing. Rejects with InfluxError where waiting may help.
 */
export async function writePoints(
  client: Pick<InfluxClient, "write">,
  lines: readonly string[],
  aside: SetAsides,
): Promise<void> {
  let requests = 0;
  async function write(some: readonly string[]): Promise<void> {
    if (some.length === 0) return;
    requests += 1;
    try {
      await client.write(some);
    } catch (thrown) {
      const error = outcomeOf(thrown);
      if (influxOutcomes[error.code].waits) throw error;
      await without(some, error);
    }
  }
  async function without(some: readonly string[], error: InfluxError): Promise<void> {
    const { code, dropped, refusedLines } = error;
    // 3.x names them, and has stored the others.
    if (refusedLines?.every((at) => at < some.length))
      return aside.addLines(
        refusedLines.map((at) => some[at] as string),
        error,
      );
    if (some.length === 1 || dropped === some.length) return aside.addLines(some, error);
    // Which of them is not asked any further: the others of a partial write are stored.
    if (requests >= maxRequests && code !== "influx-too-large")
      return aside.addSome(some, dropped ?? some.length, error);
    for (const group of parted(some, error)) await write(group);
  }
  await write(lines);
}
