import type { NightView } from "@drumlin/gateway/contract";
import { line, titleOf } from "../../data/state.ts";
import { isOtherTime } from "../../format/locale.ts";
import { nightTitle, percentOf, timeIn, whoWords } from "../../format/night-words.ts";
import { figure, whole } from "../../format/numbers.ts";
import { toShown, unitOf, volumeFigure } from "../../format/units.ts";
import { judgedPoint } from "../../line/judged-point.ts";
import { count, say, w } from "../../words/words.ts";

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
    count(w.nightWords.fillsCount, night.fills.length),
    ...night.unwatched.map((one) =>
      say(w.nightWords.whoFromTo, {
        who: whoWords(one),
        from: timeIn(night.timezone, one.from),
        to: one.to === null ? w.frame.now : timeIn(night.timezone, one.to),
      }),
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
            {say(w.nightWords.fromTo, { from: timeIn(timezone, from), to: timeIn(timezone, to) })}
            {running && ` · ${w.nightWords.notOver}`}
            {isOtherTime(timezone) && ` · ${say(w.frame.houseTimes, { zone: timezone })}`}
          </p>
        </div>
      </div>
      <dl class="bigfacts">
        <div>
          <dt>{w.nightWords.watched}</dt>
          <dd class={watched < 0.9 ? "tell" : ""}>
            {whole(percentOf(watched))} <small>%</small>
          </dd>
        </div>
        <div>
          <dt>{w.nightWords.made}</dt>
          <dd>
            {litres === null ? w.frame.notKnown : volumeFigure(litres)} <small>{unitOf("volume")}</small>
          </dd>
        </div>
        {point && (
          <div>
            <dt>{say(w.nightWords.averageOf, { title: point.title })}</dt>
            <dd class={mean !== null && mean > point.limit ? "tell" : ""}>
              {mean === null ? w.frame.notKnown : figure(toShown("conductivity25", mean))}{" "}
              <small>{unitOf("conductivity25")}</small>
            </dd>
          </div>
        )}
        <div>
          <dt>{w.nightWords.drawn}</dt>
          <dd>
            {volumeFigure(drawn)} <small>{unitOf("volume")}</small>
          </dd>
        </div>
      </dl>
      <NightBar night={night} />
    </>
  );
}
