import type { FillView, LineView } from "@drumlin/gateway/contract";
import { useEffect, useRef, useState } from "preact/hooks";
import { TrendChart, type TrendMark, type TrendSeries } from "../charts/trend-chart.tsx";
import { FillLog } from "../components/fill-log.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { alarmsBetween, fillsBetween, seriesBetween } from "../data/lists.ts";
import { gatewayNow } from "../data/now.ts";
import { goTo, query } from "../data/route.ts";
import { line, nowMs } from "../data/state.ts";
import { clock } from "../format/numbers.ts";

const spans = [
  { hours: 1, words: "1 h" },
  { hours: 6, words: "6 h" },
  { hours: 24, words: "24 h" },
  { hours: 168, words: "7 days" },
  { hours: 336, words: "14 days" },
] as const;

/** What can be drawn: `points/after-resin/conductivity25`. */
interface Choice {
  readonly key: string;
  readonly title: string;
  readonly unit: string;
  readonly limit: number | null;
}

const words: Readonly<Record<string, readonly [unit: string, word: string]>> = {
  conductivity25: ["uS/cm", ""],
  conductivity: ["uS/cm", ", at its temperature"],
  salinity: ["1", ", salinity"],
  temperature: ["Cel", ", temperature"],
  pressure: ["bar", ", pressure"],
  level: ["m", ", level"],
  volume: ["L", ", litres"],
  flow: ["L/min", ", flow"],
};

/** Everything that was measured, the waters first. */
function choicesOf({ points, drums }: LineView): Choice[] {
  const all = [
    ...points.flatMap(({ id, title, limit, quantities }) =>
      quantities.map((quantity) => ({ key: `points/${id}/${quantity}`, title, limit, quantity })),
    ),
    ...drums.flatMap(({ id, title, quantities }) =>
      quantities.map((quantity) => ({ key: `drums/${id}/${quantity}`, title, limit: null, quantity })),
    ),
  ];
  return all
    .map(({ key, title, limit, quantity }) => {
      const [unit = "", word = quantity] = words[quantity] ?? [];
      return { key, title: `${title}${word}`, unit, limit: quantity === "conductivity25" ? limit : null };
    })
    .sort((a, b) => Number(b.key.endsWith("25")) - Number(a.key.endsWith("25")));
}

/** Series of one unit, and the limit where all that have one share it. */
interface Chart {
  readonly unit: string;
  readonly series: readonly TrendSeries[];
  readonly limit: number | null;
}

interface Loaded {
  readonly charts: readonly Chart[];
  /** What was asked for and did not come. */
  readonly missing: readonly string[];
  readonly marks: readonly TrendMark[];
  readonly fills: readonly FillView[] | null;
}

async function loadAll(choices: readonly Choice[], fromMs: number, toMs: number): Promise<Loaded> {
  const [fills, raised, ...buckets] = await Promise.all([
    fillsBetween(fromMs, toMs),
    alarmsBetween(fromMs, toMs),
    ...choices.map(({ key }) => {
      const [kind, id, quantity] = key.split("/") as ["points" | "drums", string, string];
      return seriesBetween(kind, id, quantity, fromMs, toMs);
    }),
  ]);
  const got = choices.flatMap((choice, at) => {
    const found = buckets[at];
    return found ? [{ ...choice, buckets: found }] : [];
  });
  const charts = [...Map.groupBy(got, ({ unit }) => unit)].map(([unit, own]): Chart => {
    const limits = new Set(own.flatMap(({ limit }) => (limit === null ? [] : [limit])));
    return { unit, series: own, limit: limits.size === 1 ? ([...limits][0] as number) : null };
  });
  return {
    charts,
    missing: [
      ...choices.filter((_, at) => !buckets[at]).map(({ title }) => title),
      ...(raised === null ? ["alarms"] : []),
    ],
    marks: [
      ...(fills ?? []).map(({ startedAt, endedAt }) => ({
        kind: "fill" as const,
        fromMs: Date.parse(startedAt),
        toMs: endedAt === null ? toMs : Date.parse(endedAt),
      })),
      ...(raised ?? []).map(({ at }) => ({
        kind: "alarm" as const,
        fromMs: Date.parse(at),
        toMs: Date.parse(at),
      })),
    ],
    fills,
  };
}

/** What is drawn before anybody chose: the waters that have a limit, else the first. */
function usual(choices: readonly Choice[]): string[] {
  const judged = choices.filter(({ limit }) => limit !== null);
  return (judged.length > 0 ? judged : choices.slice(0, 1)).map(({ key }) => key);
}

/** The page Trend: any series together over a time, with fills and alarms marked, and the fills of that time. */
export function TrendPage() {
  const shown = line.value;
  const choices = shown ? choicesOf(shown) : [];
  const wanted = query.value.get("show")?.split(",") ?? usual(choices);
  const hours = Number(query.value.get("hours") ?? 24);
  const back = Number(query.value.get("back") ?? 0);
  const chosen = choices.filter(({ key }) => wanted.includes(key));
  const [loaded, take] = useState<Loaded | null>(null);
  // What another choice drew must not stand under this one's name.
  const shownFor = useRef("");
  // A chart that ends now is asked anew once a minute while the page is seen.
  const minute = back === 0 ? Math.floor(nowMs.value / 60_000) : 0;
  const toMs = gatewayNow() - back * hours * 3_600_000;
  const fromMs = toMs - hours * 3_600_000;
  const asked = chosen.map(({ key }) => key).join();
  useEffect(() => {
    let over = false;
    if (asked === "" || shownFor.current !== `${asked} ${hours} ${back}`) take(null);
    shownFor.current = `${asked} ${hours} ${back}`;
    if (asked !== "") void loadAll(chosen, fromMs, toMs).then((all) => !over && take(all));
    return () => {
      over = true;
    };
  }, [asked, hours, back, minute]);
  const go = (more: Record<string, string>) =>
    goTo("trend", { show: wanted.join(","), hours: String(hours), back: String(back), ...more });
  return (
    <PageFrame title="Trend">
      <section class="sheet">
        <fieldset class="choose" aria-label="How long">
          {spans.map((span) => (
            <button
              type="button"
              key={span.hours}
              aria-pressed={span.hours === hours}
              onClick={() => go({ hours: String(span.hours), back: "0" })}
            >
              {span.words}
            </button>
          ))}
          <button type="button" onClick={() => go({ back: String(back + 1) })}>
            Earlier
          </button>
          <button type="button" disabled={back === 0} onClick={() => go({ back: String(back - 1) })}>
            Later
          </button>
        </fieldset>
        <fieldset class="choose">
          <legend>
            {clock(new Date(fromMs).toISOString(), nowMs.value)} to{" "}
            {clock(new Date(toMs).toISOString(), nowMs.value)}
          </legend>
          {choices.map(({ key, title }) => (
            <label key={key}>
              <input
                type="checkbox"
                checked={wanted.includes(key)}
                onChange={({ currentTarget }) =>
                  go({
                    show: currentTarget.checked
                      ? [...wanted, key].join(",")
                      : wanted.filter((other) => other !== key).join(","),
                  })
                }
              />
              {title}
            </label>
          ))}
        </fieldset>
        {loaded === null ? (
          <p class="soft sm">
            {shown === null || chosen.length > 0 ? "Waiting for the gateway…" : "Choose a channel below."}
          </p>
        ) : (
          loaded.charts.map(({ unit, series, limit }) => (
            <TrendChart
              key={unit}
              series={series}
              marks={loaded.marks}
              limit={limit}
              label={`${series.map(({ title }) => title).join(", ")} over ${hours} hours`}
            />
          ))
        )}
        {loaded && loaded.missing.length > 0 && (
          <p class="problem">Couldn't load: {loaded.missing.join(", ")}.</p>
        )}
        <p class="soft sm">
          Grey stretches are fills; upright lines are alarms as they were raised; a bar along the bottom is
          suspect; gaps are gaps.
        </p>
      </section>
      {loaded && <FillLog fills={loaded.fills} />}
    </PageFrame>
  );
}
