import type { NightView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { mayAct } from "../../data/me.ts";
import { noteOnNight, noteSubject } from "../../data/nights.ts";
import { titleOf } from "../../data/state.ts";
import { byWords } from "../../format/by-words.ts";
import { headlineOf } from "../../format/headlines.ts";
import { timeIn, whoWords } from "../../format/night-words.ts";
import { duration, figure } from "../../format/numbers.ts";
import { conductivity25, inUnit, toShown, volume } from "../../format/units.ts";
import { stateWords } from "../../format/words.ts";
import { say, w } from "../../words/words.ts";
import { AlarmMark } from "../alarm-mark.tsx";
import { NightBatches } from "./night-batches.tsx";

type Of = { readonly night: NightView };

function wordFrom(verdict: keyof typeof w.verdicts, time: string | null): string {
  const word = w.verdicts[verdict];
  return time === null ? word : say(w.nightWords.wordFrom, { word, time });
}

/** A float by its role; one that the page does not know stays as it came. */
const roleOf = (role: string): string =>
  Object.hasOwn(w.drum.roles, role) ? w.drum.roles[role as keyof typeof w.drum.roles] : role;

/** What a person did, in words; an act that the page does not know is shown by its name. */
const actWords = (what: string): string =>
  Object.hasOwn(w.nightWords.acts, what)
    ? w.nightWords.acts[what as keyof typeof w.nightWords.acts]
    : what.replaceAll("-", " ");

function NotWatched({ night }: Of) {
  const zone = night.timezone;
  const minutes = Math.round(
    ((1 - night.watched) * (Date.parse(night.to) - Date.parse(night.from))) / 60_000,
  );
  return (
    <section class="sheet">
      <h2>
        {w.nightWords.notWatched}{" "}
        <small>
          {night.unwatched.length === 0
            ? w.nightWords.nothingShort
            : say(w.nightWords.minutes, { count: minutes })}
        </small>
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
    <section class="sheet">
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
    <section class="sheet">
      <h2>
        {w.nightWords.floats} {night.floats.length === 0 && <small>{w.nightWords.noneChanged}</small>}
      </h2>
      {night.floats.length > 0 && (
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
      )}
    </section>
  );
}

function Draws({ night }: Of) {
  return (
    <section class="sheet">
      <h2>
        {w.nightWords.draws} {night.draws.length === 0 && <small>{w.nightWords.noneSeen}</small>}
      </h2>
      {night.draws.length > 0 && (
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
      )}
    </section>
  );
}

function Alarms({ night }: Of) {
  const zone = night.timezone;
  return (
    <section class="sheet">
      <h2>
        {w.nightWords.alarms} {night.alarms.length === 0 && <small>{w.nightWords.noneShort}</small>}
      </h2>
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
                    time: seenAt === null ? "" : timeIn(zone, seenAt),
                  }).trim(),
                ]),
            endedAt === null ? stateWords(state) : say(w.alarmWords.ended, { time: timeIn(zone, endedAt) }),
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
    <section class="sheet">
      <h2>
        {w.nightWords.nodes} {night.nodes.length === 0 && <small>{w.nightWords.allHeard}</small>}
      </h2>
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

function Notes({ night, changed }: Of & { readonly changed: () => void }) {
  const [text, write] = useState("");
  const [told, tell] = useState("");
  const notes = night.acts.filter(
    ({ what, subject }) => what === "note" && (subject === "" || subject === noteSubject(night.date)),
  );
  const others = night.acts.filter((act) => !notes.includes(act));
  const save = async () => {
    const sent = await noteOnNight(night.date, text.trim());
    tell(sent.taken ? w.frame.saved : sent.problem);
    if (!sent.taken) return;
    write("");
    changed();
  };
  return (
    <>
      {others.length > 0 && (
        <section class="sheet">
          <h2>{w.nightWords.doneByPeople}</h2>
          <ul class="log">
            {others.map(({ at, by, what, subject, until, note }) => (
              <li key={`${at} ${what} ${subject}`}>
                <time dateTime={at}>{timeIn(night.timezone, at)}</time>
                <span>
                  {byWords(by)}: {actWords(what)}
                  {subject === "" ? "" : `, ${titleOf(subject)}`}
                  {until === null
                    ? ""
                    : `, ${say(w.alarmWords.until, { time: timeIn(night.timezone, until) })}`}
                  {note === null ? "" : `, “${note}”`}
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <section class="sheet">
        <h2>{w.nightWords.notes}</h2>
        {notes.map(({ at, by, note }) => (
          <p class="sm" key={at}>
            {note} <span class="soft">· {byWords(by)}</span>
          </p>
        ))}
        {mayAct.value && (
          <div class="noprint form">
            <label class="field">
              <span class="vh">{w.nightWords.noteOn}</span>
              <textarea
                rows={2}
                maxLength={2000}
                value={text}
                onInput={({ currentTarget }) => write(currentTarget.value)}
              />
            </label>
            <button
              type="button"
              class="btn"
              // Not disabled: what has focus while it is saved must keep it.
              aria-disabled={text.trim() === ""}
              onClick={() => text.trim() !== "" && void save()}
            >
              {w.nightWords.saveNote}
            </button>
            <p role="status" class="sm">
              {told}
            </p>
          </div>
        )}
      </section>
    </>
  );
}

/** The rest of a night: what nobody watched, water, floats, draws, alarms, nodes, what people did and wrote. */
export function NightSide({ night, changed }: Of & { readonly changed: () => void }) {
  return (
    <aside class="night-side">
      <NotWatched night={night} />
      <Water night={night} />
      <Floats night={night} />
      <NightBatches night={night} />
      <Draws night={night} />
      <Alarms night={night} />
      <Nodes night={night} />
      <Notes night={night} changed={changed} />
    </aside>
  );
}
