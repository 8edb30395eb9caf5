import { Card } from "../components/card.tsx";
import { figure } from "../format/numbers.ts";
import { type Series, unitWords } from "./channels.ts";
import { bucketAt } from "./curve.ts";
import { dayAndTime } from "./time-axis.ts";

const flags: Readonly<Record<number, string>> = { 2: "not judged", 3: "doubtful", 4: "failed a test" };

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
      title="At the cursor"
      beside={`${dayAndTime(ms, zone, bucketMs < 60_000)} · ${eachWords(bucketMs)}`}
    >
      <div class="tw">
        <table class="at-cursor">
          <thead>
            <tr>
              <th scope="col">Channel</th>
              <th scope="col" class="n">
                Mean
              </th>
              <th scope="col" class="n">
                Lowest
              </th>
              <th scope="col" class="n">
                Highest
              </th>
              <th scope="col">
                <span class="vh">Take away</span>
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

function eachWords(bucketMs: number): string {
  if (bucketMs < 60_000) return `${Math.round(bucketMs / 1000)} s each`;
  if (bucketMs < 7_200_000) return `${Math.round(bucketMs / 60_000)} min each`;
  return `${Math.round(bucketMs / 3_600_000)} h each`;
}

function Row(props: { series: Series; ms: number; place: number; toggle: (key: string) => void }) {
  const { series, ms, toggle } = props;
  const bucket = bucketAt(series.buckets, ms);
  const flag = bucket ? flags[bucket.flag] : undefined;
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
          no reading
        </td>
      )}
      <td class="n">
        <button
          type="button"
          class="btn plain icon"
          aria-label={`Take away: ${series.title}`}
          onClick={() => toggle(series.key)}
        >
          ×
        </button>
      </td>
    </tr>
  );
}
