import type { RejectionCount } from "../logbook/index.ts";

/** Kinds (a code, and a node where it is known) that are told apart. */
const maxKinds = 500;
const maxExamples = 20;
const longestDetail = 200;

/** What was refused since the start, by code and node. */
export interface RefusalCounts {
  note(code: string, node: string | null, detail: string): void;
  values(): readonly RejectionCount[];
}

/**
 * Counts refusals. Bounded, and never ends counting: when as many kinds are known as fit, further nodes are counted together
 * under their code, of which there are few.
 */
export function createRefusalCounts(now: () => number): RefusalCounts {
  const counts = new Map<string, RejectionCount>();
  return {
    note(code, node, detail) {
      const own = `${code} ${node ?? ""}`;
      const isFull = counts.size >= maxKinds && !counts.has(own);
      const [key, counted] = isFull ? [`${code} `, null] : [own, node];
      const known = counts.get(key);
      const atMs = now();
      const example = { atMs, topic: "", detail: detail.slice(0, longestDetail), example: "" };
      counts.set(key, {
        code,
        node: counted,
        count: (known?.count ?? 0) + 1,
        lastAtMs: atMs,
        examples: [example, ...(known?.examples ?? [])].slice(0, maxExamples),
      });
    },
    values: () => [...counts.values()],
  };
}
