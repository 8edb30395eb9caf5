import type { DrumView, LineView } from "@drumlin/gateway/contract";
import { line, titleOf } from "../data/state.ts";
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
export function samplePlaces({ id, title, fedBy }: DrumView): readonly SamplePlace[] {
  const stages = line.value?.stages ?? [];
  const points: string[] = [];
  const into = (point: string) => stages.find(({ to }) => to === point);
  for (let stage = into(fedBy); stage; stage = into(stage.from))
    if (stage.kind === "carbon") points.push(stage.to);
  // Without any carbon, what fills it.
  if (stages.every(({ kind }) => kind !== "carbon")) points.push(fedBy);
  return [
    ...points.map((point) => ({ value: `point ${point}`, words: titleOf(point) })),
    { value: `drum ${id}`, words: title },
  ];
}

/** What a test decides, said before it is saved; `isVain`: nothing. */
export function chlorineDecides(
  { what, reading, value }: ChlorineRead,
  { failsFrom, freeTells }: NonNullable<LineView["chlorine"]>,
): { readonly words: string; readonly isVain: boolean; readonly warns: boolean } {
  const isBelow = reading === "below";
  const isOver = isBelow ? value > failsFrom : value >= failsFrom;
  const isVain = isOver ? isBelow : what === "free-chlorine" && !freeTells;
  const { tooCoarse, fails, onlyFree, passes } = w.batchWords.decides;
  const words = isOver ? (isVain ? tooCoarse : fails) : isVain ? onlyFree : passes;
  return { words: say(words, { limit: asSet(failsFrom) }), isVain, warns: isOver || isVain };
}
