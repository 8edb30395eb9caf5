import type { NightView } from "@drumlin/gateway/contract";
import { titleOf } from "../../data/state.ts";
import { byWords } from "../../format/by-words.ts";
import { headlineOf } from "../../format/headlines.ts";
import { timeFor, timeIn, whoWords } from "../../format/night-words.ts";
import { duration, figure } from "../../format/numbers.ts";
import { conductivity25, inUnit, toShown, volume } from "../../format/units.ts";
import { stateWords } from "../../format/words.ts";
import { say, w } from "../../words/words.ts";
import { AlarmMark } from "../alarm-mark.tsx";
import { NightBatches } from "./night-batches.tsx";
import { NightNotes } from "./night-notes.tsx";

type Of = { readonly night: NightView };

function wordFrom(verdict: keyof typeof w.verdicts, time: string | null): string {
  const word = w.verdicts[verdict];
  return time === null ? word : say(w.nightWords.wordFrom, { word, time });
}

/** A float by its role; one that the page does not know stays as it came. */
const roleOf = (role: string): string =>
  Object.hasOwn(w.drum.roles, role) ? w.drum.roles[role as keyof typeof w.drum.roles] : role;

function NotWatched({ night }: Of) {
  const zone = night.timezone;
  const minutes = Math.round(
    ((1 - night.watched) * (Date.parse(night.to) - Date.parse(night.from))) / 60_000,
  );
  return (
    <section>
      <h2>
        {w.nightWords.notWatched} <small>{say(w.nightWords.minutes, { count: minutes })}</small>
      </h2>
      {night.unwatched.map((one) => (
        <p class="sm" key={`${one.who} ${one.from}`}>
          {say(w.nightWords.fromTo, {
            from: timeIn(zone, one.from),
            to: one.to === null ? w.frame.now : timeIn(zone, one.to),
          })}{" "}
          · {whoWords(one)}.{" "}
          {one.fills.length === 0
            ? w.nightWords.noFillRan
            : one.fills.length === 1
              ? w.nightWords.aFillRan
              : say(w.nightWords.fillsRan, { count: one.fills.length })}
        </p>
      ))}
    </section>
  );
}

function Water({ night }: Of) {
  return (
    <section>
      <h2>{w.nightWords.water}</h2>
      {night.drums.map(({ drum, mean25, peak25, words }) => (
        <p class="sm" key={drum}>
          <b>{titleOf(drum)}</b>
          {words.length > 0 &&
            ` · ${words.map(({ verdict, since }, index) => wordFrom(verdict, index === 0 ? null : timeIn(night.timezone, since))).join(", ")}`}
          <br />
          {mean25 === null
            ? w.nightWords.nothingMeasured
            : peak25 === null
              ? say(w.nightWords.average, { value: conductivity25(mean25) })
              : say(w.nightWords.averageHighest, {
                  value: conductivity25(mean25),
                  highest: figure(toShown("conductivity25", peak25)),
                })}
        </p>
      ))}
    </section>
  );
}

function Floats({ night }: Of) {
  return (
    <section>
      <h2>{w.nightWords.floats}</h2>
      <div class="tw">
        <table>
          <thead>
            <tr>
              <th>{w.nightWords.time}</th>
              <th>{w.nightWords.float}</th>
              <th class="n">{w.nightWords.at}</th>
            </tr>
          </thead>
          <tbody>
            {night.floats.map(({ at, drum, role, wet, litres }) => (
              <tr key={`${drum} ${role} ${at}`}>
                <td>{timeIn(night.timezone, at)}</td>
                <td>
                  {titleOf(drum)}, {roleOf(role)}: {wet ? w.drum.states.wet : w.drum.states.dry}
                </td>
                <td class="n">{litres === null ? "" : volume(litres)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function Draws({ night }: Of) {
  return (
    <section>
      <h2>{w.nightWords.draws}</h2>
      <div class="tw">
        <table>
          <tbody>
            {night.draws.map(({ from, drum, litres }) => (
              <tr key={`${drum} ${from}`}>
                <td>{timeIn(night.timezone, from)}</td>
                <td>{titleOf(drum)}</td>
                <td class="n">{volume(litres)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function Alarms({ night }: Of) {
  const zone = night.timezone;
  return (
    <section>
      <h2>{w.nightWords.alarms}</h2>
      <ul class="log">
        {night.alarms.map((alarm) => {
          const { key, occurrence, raisedAt, raisedInNight, attention, endedAt, seenBy, seenAt, state } =
            alarm;
          const said = [
            ...(alarm.value === null ? [] : [inUnit(alarm.value, alarm.unit)]),
            ...(seenBy === null
              ? []
              : [
                  say(w.nightWords.seenBy, {
                    person: byWords(seenBy),
                    time: seenAt === null ? "" : timeFor(night, seenAt),
                  }).trim(),
                ]),
            endedAt === null ? stateWords(state) : say(w.alarmWords.ended, { time: timeFor(night, endedAt) }),
          ];
          return (
            <li key={`${key} ${occurrence}`}>
              <time dateTime={raisedAt}>{raisedInNight ? timeIn(zone, raisedAt) : w.nightWords.before}</time>
              <AlarmMark attention={attention} />
              <span>
                <b>{headlineOf(alarm)}</b>
                <br />
                {said.join(" · ")}
              </span>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

function Nodes({ night }: Of) {
  return (
    <section>
      <h2>{w.nightWords.nodes}</h2>
      {night.nodes.map(({ node, silentSeconds, starts }) => (
        <p class="sm" key={node}>
          <b>{node}</b> ·{" "}
          {silentSeconds > 0
            ? say(w.nightWords.silentFor, { duration: duration(silentSeconds * 1000) })
            : w.nightWords.heardThroughout}
          {starts > 0 &&
            ` · ${starts === 1 ? w.nightWords.startedOnce : say(w.nightWords.startedTimes, { count: starts })}`}
        </p>
      ))}
    </section>
  );
}

/**
 * The rest of a night on one card: what nobody watched, water, floats, draws, alarms, nodes, what people did and wrote.
 * Of what there was nothing of, one line says so.
 */
export function NightSide({ night, changed }: Of & { readonly changed: () => void }) {
  const parts = [
    [night.unwatched.length, NotWatched, w.nightWords.notWatched, w.nightWords.nothingShort],
    [night.drums.length, Water, w.nightWords.water, w.nightWords.nothingMeasured],
    [night.floats.length, Floats, w.nightWords.floats, w.nightWords.noneChanged],
    [night.batches.length, NightBatches, "", ""],
    [night.draws.length, Draws, w.nightWords.draws, w.nightWords.noneSeen],
    [night.alarms.length, Alarms, w.nightWords.alarms, w.nightWords.noneShort],
    [night.nodes.length, Nodes, w.nightWords.nodes, w.nightWords.allHeard],
  ] as const;
  const none = parts.flatMap(([many, , title, words]) =>
    many === 0 && title !== "" ? [`${title}: ${words}`] : [],
  );
  return (
    <aside class="sheet night-side">
      {parts.map(([many, Part, title]) => many > 0 && <Part key={title} night={night} />)}
      {none.length > 0 && <p class="sm soft none">{none.join(" · ")}</p>}
      <NightNotes night={night} changed={changed} />
    </aside>
  );
}
