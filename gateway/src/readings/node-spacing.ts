import { afterStep, type Spacing } from "./spacing.ts";

/** How far apart the packs of a node come. Plain data. */
export interface NodeSpacing extends Spacing {
  /** How many packs have come close upon the one before since the last that did not. */
  readonly quick?: number;
}

/** Packs closer than this are of one burst, one for each of its channels: they tell of no spacing. */
const burstMs = 1000;
/** More of them in a row than a node has channels as a rule: it sends as fast as that. */
const quickEnough = 40;
/** No silence that is told of is shorter than many of these. */
const fastMs = 5000;
/** What is announced and what comes differ by less than this share as a rule. */
const alike = 1.25;

function afterQuick(before: NodeSpacing | undefined): NodeSpacing | undefined {
  if (!before) return undefined;
  const quick = (before.quick ?? 0) + 1;
  return quick < quickEnough ? { ...before, quick } : undefined;
}

/**
 * The spacing of a node's packs after a step between two of them. `announcedMs`: the period that it announced, null where it
 * announced none. Undefined: as announced, or not known, or too fast to matter.
 */
export function afterPackStep(
  before: NodeSpacing | undefined,
  stepMs: number,
  announcedMs: number | null,
): NodeSpacing | undefined {
  if (stepMs < burstMs) return afterQuick(before);
  const usualMs = announcedMs === null ? null : alike * announcedMs;
  if (!before && usualMs !== null && stepMs <= usualMs) return undefined;
  if (before && !before.other && before.ms <= fastMs && stepMs <= fastMs) return before;
  const known = before ? { ms: before.ms, ...(before.other && { other: before.other }) } : undefined;
  const spacing = afterStep(known ?? (announcedMs === null ? undefined : { ms: announcedMs }), stepMs);
  const isAsAnnounced = usualMs !== null && spacing && !spacing.other && spacing.ms <= usualMs;
  return isAsAnnounced ? undefined : spacing;
}
