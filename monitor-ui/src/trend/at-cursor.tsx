import { Card } from "../components/card.tsx";
import { duration, figure } from "../format/numbers.ts";
import { say, w } from "../words/words.ts";
import { type Series, unitWords } from "./channels.ts";
import { bucketAt } from "./curve.ts";
import { dayAndTime } from "./time-axis.ts";

/** What speaks against a bucket, by its flag (QARTOD). */
const flagWords = (flag: number): string | undefined =>
  flag === 2
    ? w.trendWords.flags.notJudged
    : flag === 3
      ? w.trendWords.flags.doubtful
      : flag === 4
        ? w.trendWords.flags.failed
        : undefined;

/** What stands at the cursor, as text: mean, lowest and highest of each. */
export function AtCursor(props: {
  readonly series: readonly Series[];
  readonly ms: number;
  readonly zone: string | undefined;
  readonly toggle: (key: string) => void;
}) {
  const { series, ms, zone, toggle } = props;
  const bucketMs = series[0]?.buckets.bucketMs ?? 0;
  return (
    <Card
      title={w.trendWords.atCursor}
      beside={`${dayAndTime(ms, zone, bucketMs < 60_000)} · ${eachWords(bucketMs)}`}
    >
      <div class="tw">
        <table class="at-cursor">
          <thead>
            <tr>
              <th scope="col">{w.trendWords.channel}</th>
              <th scope="col" class="n">
                {w.trendWords.mean}
              </th>
              <th scope="col" class="n">
                {w.trendWords.lowest}
              </th>
              <th scope="col" class="n">
                {w.trendWords.highest}
              </th>
              <th scope="col">
                <span class="vh">{w.trendWords.takeAway}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {series.map((one) => (
              <Row key={one.key} series={one} ms={ms} place={series.indexOf(one)} toggle={toggle} />
            ))}
          </tbody>
        </table>
      </div>
    </Card>
  );
}

const eachWords = (bucketMs: number): string => say(w.trendWords.each, { duration: duration(bucketMs) });

function Row(props: { series: Series; ms: number; place: number; toggle: (key: string) => void }) {
  const { series, ms, toggle } = props;
  const bucket = bucketAt(series.buckets, ms);
  const flag = bucket ? flagWords(bucket.flag) : undefined;
  return (
    <tr>
      <th scope="row">
        {series.title}
        {flag !== undefined && <span class="soft sm"> {flag}</span>}
      </th>
      {bucket ? (
        <>
          <td class="n">
            <b>{figure(bucket.mean)}</b> <span class="soft">{unitWords(series.unit)}</span>
          </td>
          <td class="n">{figure(bucket.min)}</td>
          <td class="n">{figure(bucket.max)}</td>
        </>
      ) : (
        <td class="soft" colSpan={3}>
          {w.trendWords.noReading}
        </td>
      )}
      <td class="n">
        <button
          type="button"
          class="btn plain icon"
          aria-label={say(w.trendWords.takeAwayOne, { title: series.title })}
          onClick={() => toggle(series.key)}
        >
          ×
        </button>
      </td>
    </tr>
  );
}
