import type { NightView } from "@drumlin/gateway/contract";
import { line, titleOf } from "../../data/state.ts";
import { nightTitle, percentOf, timeIn, whoWords } from "../../format/night-words.ts";
import { figure } from "../../format/numbers.ts";
import { judgedPoint } from "./night-strip.tsx";

function meanAt(night: NightView, point: string): number | null {
  const fed = new Set((line.value?.drums ?? []).filter(({ fedBy }) => fedBy === point).map(({ id }) => id));
  const known = night.drums.filter(({ drum, mean25 }) => fed.has(drum) && mean25 !== null);
  const weight = known.reduce((sum, { litres }) => sum + (litres ?? 1), 0);
  return weight === 0
    ? null
    : known.reduce((sum, { mean25, litres }) => sum + (mean25 as number) * (litres ?? 1), 0) / weight;
}

/** The night as a bar: fills, what nobody watched, and where alarms were raised. */
function NightBar({ night }: { readonly night: NightView }) {
  const [fromMs, toMs] = [Date.parse(night.from), Date.parse(night.to)];
  const at = (iso: string | null) => {
    const ms = iso === null ? Date.now() : Date.parse(iso);
    return Math.min(100, Math.max(0, (100 * (ms - fromMs)) / (toMs - fromMs)));
  };
  const span = (from: string, to: string | null) => ({
    left: `${at(from)}%`,
    width: `${Math.max(0.4, at(to) - at(from))}%`,
  });
  const first = line.value?.drums[0]?.id;
  const said = [
    `${night.fills.length} fills`,
    ...night.unwatched.map(
      (one) =>
        `${whoWords(one)} from ${timeIn(night.timezone, one.from)} to ${one.to === null ? "now" : timeIn(night.timezone, one.to)}`,
    ),
  ];
  return (
    <div class="nightbar" role="img" aria-label={said.join("; ")}>
      {night.fills.map(({ id, drum, startedAt, endedAt }) => (
        <i
          key={id}
          class={drum === first ? "t" : ""}
          style={span(startedAt, endedAt)}
          title={`${titleOf(drum)}, ${timeIn(night.timezone, startedAt)}`}
        />
      ))}
      {night.unwatched.map((one) => (
        <i key={`${one.who} ${one.from}`} class="gap" style={span(one.from, one.to)} />
      ))}
      {night.alarms
        .filter(({ raisedInNight, attention }) => raisedInNight && attention !== "record")
        .map(({ key, occurrence, raisedAt, attention }) => (
          <u
            key={`${key} ${occurrence}`}
            class={attention === "wake" ? "w" : ""}
            style={{ left: `${at(raisedAt)}%` }}
          />
        ))}
    </div>
  );
}

/** What a night was, in four figures and a bar. */
export function NightHead({ night }: { readonly night: NightView }) {
  const { date, timezone, from, to, running, watched, litres } = night;
  const point = judgedPoint();
  const mean = point && meanAt(night, point.id);
  const drawn = night.drums.reduce((sum, drum) => sum + drum.drawn, 0);
  return (
    <>
      <div class="pagehead">
        <div>
          <h2 class="h1">{nightTitle(date)}</h2>
          <p>
            {timeIn(timezone, from)} to {timeIn(timezone, to)}
            {running && " · not over yet"}
            {Intl.DateTimeFormat().resolvedOptions().timeZone !== timezone && ` · times of ${timezone}`}
          </p>
        </div>
      </div>
      <dl class="bigfacts">
        <div>
          <dt>watched</dt>
          <dd class={watched < 0.9 ? "tell" : ""}>
            {percentOf(watched)} <small>%</small>
          </dd>
        </div>
        <div>
          <dt>made</dt>
          <dd>
            {litres === null ? "—" : litres.toFixed(0)} <small>L</small>
          </dd>
        </div>
        {point && (
          <div>
            <dt>average {point.title.toLowerCase()}</dt>
            <dd class={mean !== null && mean > point.limit ? "tell" : ""}>
              {mean === null ? "—" : figure(mean)} <small>µS/cm</small>
            </dd>
          </div>
        )}
        <div>
          <dt>drawn</dt>
          <dd>
            {drawn.toFixed(0)} <small>L</small>
          </dd>
        </div>
      </dl>
      <NightBar night={night} />
    </>
  );
}
