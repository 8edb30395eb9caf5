import type { DrumView, LineView } from "@drumlin/gateway/contract";
import { say, w } from "../words/words.ts";
import { asSet } from "./numbers.ts";

/** What somebody read off a test of chlorine. */
export interface ChlorineRead {
  readonly what: "total-chlorine" | "free-chlorine";
  readonly reading: "is" | "below";
  /** mg/L as Cl2. */
  readonly value: number;
}

/** A place for a sample, as it is sent, and its name. */
interface SamplePlace {
  readonly value: string;
  readonly words: string;
}

/** Where a sample tells of a drum's water: behind the last carbon on its way first, since that decides; then against the flow; the drum. */
export function samplePlaces(drum: DrumView, line: LineView | null): readonly SamplePlace[] {
  const stages = line?.stages ?? [];
  const behind: string[] = [];
  const into = (point: string) => stages.find(({ to }) => to === point);
  for (let stage = into(drum.fedBy); stage; stage = into(stage.from))
    if (stage.kind === "carbon") behind.push(stage.to);
  // Without any carbon, what fills it.
  const hasCarbon = stages.some(({ kind }) => kind === "carbon");
  const points = hasCarbon ? behind : [drum.fedBy];
  return [
    ...points.map((id) => ({
      value: `point ${id}`,
      words: line?.points.find((point) => point.id === id)?.title ?? id,
    })),
    { value: `drum ${drum.id}`, words: drum.title },
  ];
}

/** What a test decides, said before it is saved; `isVain`: nothing. */
export function chlorineDecides(
  { what, reading, value }: ChlorineRead,
  rule: NonNullable<LineView["chlorine"]>,
): { readonly words: string; readonly isVain: boolean; readonly isBad: boolean } {
  const { failsFrom, freeTells } = rule;
  const limit = asSet(failsFrom);
  const passes = reading === "below" ? value <= failsFrom : value < failsFrom;
  const { decides } = w.batchWords;
  if (!passes && reading === "below")
    return { words: say(decides.tooCoarse, { limit }), isVain: true, isBad: false };
  if (!passes) return { words: say(decides.fails, { limit }), isVain: false, isBad: true };
  if (what === "free-chlorine" && !freeTells) return { words: decides.onlyFree, isVain: true, isBad: false };
  return { words: say(decides.passes, { limit }), isVain: false, isBad: false };
}
