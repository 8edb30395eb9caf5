import type { Line } from "../../line/index.ts";

/** The raw contact that means "wet" of each float's channel, as the line file says; null where it says nothing. */
const saidBy = (line: Line | null) =>
  new Map(
    line?.drums.flatMap(({ floats }) => floats.map(({ channel, wetWhen }) => [channel, wetWhen] as const)),
  );

/** Channels whose sense a newer line file says anew: what a test showed before it holds no longer. */
export function saidAnew(line: Line, was: Line | null): readonly string[] {
  if (was === null) return [];
  const before = saidBy(was);
  return [...saidBy(line)].flatMap(([channel, wetWhen]) =>
    wetWhen !== null && before.get(channel) !== wetWhen ? [channel] : [],
  );
}
