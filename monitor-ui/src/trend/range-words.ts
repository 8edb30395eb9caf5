import { figure } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { type Series, unitWords } from "./channels.ts";
import { rangeOf } from "./curve.ts";

/** What curves of one unit show, for whoever can't see them: the name of each, its lowest and its highest. */
export function rangeWords(series: readonly Pick<Series, "title" | "buckets">[], unit: string): string {
  const said = series.map(({ title, buckets }) => {
    const range = rangeOf([buckets]);
    return range
      ? say(w.trendWords.range, {
          title,
          low: figure(range.low),
          high: `${figure(range.high)} ${unitWords(unit)}`,
        })
      : say(w.trendWords.nothingMeasured, { title });
  });
  return said.join("; ");
}
