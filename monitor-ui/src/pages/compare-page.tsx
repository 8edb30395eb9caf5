import type { DrumView, FillView, LineView } from "@drumlin/gateway/contract";
import { useRef, useState } from "preact/hooks";
import { Card } from "../components/card.tsx";
import { CouldNotLoad } from "../components/could-not-load.tsx";
import { Choices } from "../components/field.tsx";
import { howItEnded, litresWords } from "../components/fill-log.tsx";
import { Icon } from "../components/icon.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { useAsked } from "../data/asked.ts";
import { type Compared, longestOf, useCompared } from "../data/compare.ts";
import { query, stayAt } from "../data/route.ts";
import { gatewayNowMs, line } from "../data/state.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { type Channel, channelsOf, unitWords } from "../trend/channels.ts";
import { CursorKeys } from "../trend/cursor-keys.tsx";
import { bucketAt } from "../trend/curve.ts";
import { useGestures } from "../trend/gestures.ts";
import { give } from "../trend/give.ts";
import { pictureOf, pngOf } from "../trend/picture.ts";
import { rangeWords } from "../trend/range-words.ts";
import { csvOfFills, durationTicks } from "../trend/since-start.ts";
import { TrendPanel } from "../trend/trend-panel.tsx";
import type { Window } from "../trend/window.ts";
import { count, say, w } from "../words/words.ts";

/** Line samples that can be told apart. */
const maxFills = 4;

/** What changes with a fill: the drum's own, and the water that it is fed with. */
const channelsFor = (shown: LineView, drum: DrumView): Channel[] =>
  channelsOf(shown)
    .filter(({ kind, id }) => (kind === "drums" ? id === drum.id : id === drum.fedBy))
    .sort((a, b) => Number(b.quantity === "volume") - Number(a.quantity === "volume"));

/** The page that lays fills of one drum over each other, each from its own start. */
export function ComparePage() {
  const shown = line.value;
  const drums = shown?.drums ?? [];
  const drum = drums.find(({ id }) => id === query.value.get("drum")) ?? drums[0];
  const { answer, again } = useAsked<{ items: FillView[] }>(
    drum ? `/api/fills?drum=${encodeURIComponent(drum.id)}&limit=12` : null,
  );
  const fills = (answer?.items ?? []).filter((fill) => fill.drum === drum?.id);
  const channels = shown && drum ? channelsFor(shown, drum) : [];
  const channel = channels.find(({ key }) => key === query.value.get("what")) ?? channels[0];
  const wanted = query.value.get("fills")?.split(",") ?? fills.slice(0, 3).map(({ id }) => id);
  const chosen = fills.filter(({ id }) => wanted.includes(id)).slice(0, maxFills);
  const compared = useCompared(chosen, channel);
  const [problem, tell] = useState("");
  const go = (change: { drum?: string; what?: string; fills?: readonly string[] }) => {
    tell("");
    const next = { drum: drum?.id, what: channel?.key, fills: chosen.map(({ id }) => id), ...change };
    stayAt("compare", {
      drum: next.drum ?? "",
      ...(next.what === undefined ? {} : { what: next.what }),
      ...(change.drum === undefined ? { fills: next.fills.join(",") } : {}),
    });
  };
  const toggle = (id: string) => {
    const ids = chosen.map((fill) => fill.id);
    if (ids.includes(id)) go({ fills: ids.filter((one) => one !== id) });
    else if (ids.length < maxFills) go({ fills: [...ids, id] });
    else tell(w.compare.atMost);
  };
  return (
    <PageFrame
      title={w.compare.title}
      beside={<a href={`#trend?show=${channel?.key ?? ""}&hours=24`}>{w.frame.trend}</a>}
    >
      <section class="sheet trendsheet">
        <details class="pick" open={matchMedia("(min-width: 47.5rem)").matches}>
          <summary>
            {channel?.title} · {count(w.compare.chosen, chosen.length)}
            <Icon name="next" />
          </summary>
          <div class="timebar">
            {drums.length > 1 && (
              <Choices
                label={w.compare.drum}
                choices={drums.map(({ id, title }) => ({ value: id, words: title }))}
                chosen={drum?.id ?? null}
                choose={(id) => go({ drum: id })}
              />
            )}
            <Choices
              label={w.compare.what}
              choices={channels.map(({ key, title }) => ({ value: key, words: title }))}
              chosen={channel?.key ?? null}
              choose={(key) => go({ what: key })}
            />
          </div>
          <p class="soft sm">{w.compare.which}</p>
          <Choices
            label={w.compare.which}
            choices={fills.map((fill) => ({
              value: fill.id,
              words: `${clock(fill.startedAt, gatewayNowMs.value)} · ${litresWords(fill)}`,
            }))}
            chosen={chosen.map(({ id }) => id)}
            choose={toggle}
          />
        </details>
        {answer === null && <CouldNotLoad what={w.fillWords.theFills} again={again} />}
        {answer && fills.length === 0 && <p class="soft">{w.compare.none}</p>}
        {shown && channels.length === 0 && <p class="soft">{w.compare.nothing}</p>}
        <p class="answer problem" role="status">
          {problem}
        </p>
        {fills.length > 0 && chosen.length === 0 && <p class="soft trend-wait">{w.compare.choose}</p>}
        {chosen.length > 0 && channel && !compared && <p class="soft trend-wait">{w.frame.loading}</p>}
        {chosen.length > 0 && channel && compared && (
          <Laid key={channel.key} compared={compared} fills={chosen} channel={channel} />
        )}
      </section>
      {chosen.length > 0 && <Ends fills={chosen} />}
    </PageFrame>
  );
}

interface LaidProps {
  readonly compared: Compared;
  readonly fills: readonly FillView[];
  readonly channel: Channel;
}

/** The fills over one time from their start: moved by finger, wheel and keys, as the Trend is. */
function Laid({ compared, fills, channel }: LaidProps) {
  const longestMs = longestOf(fills);
  const host = useRef<HTMLDivElement>(null);
  const [held, hold] = useState<Window | null>(null);
  const [cursor, setCursor] = useState<number | null>(null);
  const whole = { fromMs: 0, toMs: longestMs, live: false };
  const window = held ?? whole;
  const move = (next: Window) => {
    const fromMs = Math.max(0, next.fromMs);
    hold({ fromMs, toMs: Math.min(longestMs, fromMs + next.toMs - next.fromMs), live: false });
  };
  const nowMs = () => longestMs;
  useGestures(host, { window, nowMs, onWindow: move, onCursor: setCursor, onHome: () => hold(null) });
  const { series, missing } = compared;
  const unit = series[0]?.unit ?? channel.unit;
  // Until somebody moves it: where all of them still ran.
  const middleMs = Math.min(...fills.map((fill) => longestOf([fill]))) / 2;
  const cursorMs = Math.min(window.toMs, Math.max(window.fromMs, cursor ?? middleMs));
  return (
    <>
      <CursorKeys {...{ host, window, cursorMs, nowMs }} onCursor={setCursor} onWindow={move}>
        <TrendPanel
          title={channel.title}
          unit={unit}
          series={series}
          loaded={whole}
          shown={window}
          heightRem={16}
          fills={[]}
          stands={[]}
          named={false}
          cursorMs={cursorMs}
          now={() => null}
          times={durationTicks(window.fromMs, window.toMs, 6)}
          label={`${channel.title}, ${w.compare.fromStart}. ${rangeWords(series, unit)}`}
        />
      </CursorKeys>
      {missing.length > 0 && (
        <p class="problem">{say(w.trendWords.notLoaded, { what: missing.join(", ") })}</p>
      )}
      <AtCursor compared={compared} ms={cursorMs} unit={unit} />
      <Files compared={compared} fills={fills} channel={channel} unit={unit} longestMs={longestMs} />
    </>
  );
}

/** What each fill had at the cursor, as text. */
function AtCursor({ compared, ms, unit }: { compared: Compared; ms: number; unit: string }) {
  return (
    <div class="at-fills">
      <p class="soft">{say(w.compare.after, { duration: duration(ms) })}</p>
      <ul class="plain">
        {compared.series.map(({ key, title, buckets }) => {
          const bucket = bucketAt(buckets, ms);
          return (
            <li key={key}>
              {title}: <b>{bucket ? `${figure(bucket.mean)} ${unitWords(unit)}` : w.trendWords.noReading}</b>
            </li>
          );
        })}
      </ul>
    </div>
  );
}

/** The fills as a table and as a picture. */
function Files(props: LaidProps & { compared: Compared; unit: string; longestMs: number }) {
  const { compared, fills, channel, unit, longestMs } = props;
  const [said, tell] = useState("");
  const name = `drumlin-fills-${channel.id}`;
  const { series } = compared;
  const csv = () => {
    const own = series.flatMap(({ key, buckets }) => {
      const fill = fills.find(({ id }) => id === key);
      return fill ? [{ startedAt: fill.startedAt, buckets }] : [];
    });
    give(new Blob([csvOfFills(own, unit)], { type: "text/csv" }), `${name}.csv`);
  };
  const picture = async () => {
    const loaded = { fromMs: 0, toMs: longestMs };
    const times = durationTicks(0, longestMs, 10);
    const title = `${channel.title}, ${w.compare.fromStart}`;
    const drawn = pictureOf([{ unit, title: channel.title, series }], {
      loaded,
      title,
      zone: undefined,
      times,
    });
    const png = await pngOf(drawn).catch(() => null);
    if (png) give(png, `${name}.png`);
    else tell(w.trendWords.noPicture);
  };
  return (
    <div class="acts">
      <button type="button" class="btn" onClick={csv}>
        CSV
      </button>
      <button type="button" class="btn" onClick={() => void picture()}>
        {w.trendWords.picture}
      </button>
      <span class="answer" role="status">
        {said}
      </span>
    </div>
  );
}

/** How long each took, what came in, and how it ended. */
function Ends({ fills }: { readonly fills: readonly FillView[] }) {
  const now = gatewayNowMs.value;
  return (
    <Card title={w.fillWords.fills}>
      <div class="tw">
        <table class="ends-of-fills">
          <thead>
            <tr>
              {[w.compare.fill, w.compare.lasted, w.compare.cameIn, w.compare.howEnded].map((name) => (
                <th scope="col" key={name}>
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {fills.map((fill) => (
              <tr key={fill.id}>
                <th scope="row">{clock(fill.startedAt, now)}</th>
                <td>
                  {fill.endedAt === null
                    ? w.compare.running
                    : duration(Date.parse(fill.endedAt) - Date.parse(fill.startedAt))}
                </td>
                <td>{litresWords(fill)}</td>
                <td>{howItEnded(fill)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Card>
  );
}
