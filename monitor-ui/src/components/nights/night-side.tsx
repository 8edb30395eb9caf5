import type { NightView } from "@drumlin/gateway/contract";
import { useState } from "preact/hooks";
import { mayAct } from "../../data/me.ts";
import { noteOnNight, noteSubject } from "../../data/nights.ts";
import { titleOf } from "../../data/state.ts";
import { headlineOf } from "../../format/headlines.ts";
import { timeIn, whoWords } from "../../format/night-words.ts";
import { duration, figure } from "../../format/numbers.ts";
import { stateWords } from "../../format/words.ts";
import { AlarmMark } from "../alarm-mark.tsx";
import { NightBatches } from "./night-batches.tsx";

type Of = { readonly night: NightView };

function NotWatched({ night }: Of) {
  const zone = night.timezone;
  const minutes = Math.round(
    ((1 - night.watched) * (Date.parse(night.to) - Date.parse(night.from))) / 60_000,
  );
  return (
    <section class="sheet">
      <h2>
        Not watched <small>{night.unwatched.length === 0 ? "nothing" : `${minutes} min`}</small>
      </h2>
      {night.unwatched.map((one) => (
        <p class="sm" key={`${one.who} ${one.from}`}>
          {timeIn(zone, one.from)} to {one.to === null ? "now" : timeIn(zone, one.to)} · {whoWords(one)}.{" "}
          {one.fills.length === 0
            ? "No fill ran."
            : one.fills.length === 1
              ? "A fill ran."
              : `${one.fills.length} fills ran.`}
        </p>
      ))}
    </section>
  );
}

function Water({ night }: Of) {
  return (
    <section class="sheet">
      <h2>Water</h2>
      {night.drums.map(({ drum, mean25, peak25, words }) => (
        <p class="sm" key={drum}>
          <b>{titleOf(drum)}</b>
          {words.length > 0 &&
            ` · ${words.map(({ verdict, since }, index) => (index === 0 ? verdict : `${verdict} from ${timeIn(night.timezone, since)}`)).join(", ")}`}
          <br />
          {mean25 === null
            ? "nothing measured came in"
            : `average ${figure(mean25)} µS/cm${peak25 === null ? "" : `, highest ${figure(peak25)}`}`}
        </p>
      ))}
    </section>
  );
}

function Floats({ night }: Of) {
  return (
    <section class="sheet">
      <h2>Floats {night.floats.length === 0 && <small>none changed</small>}</h2>
      {night.floats.length > 0 && (
        <div class="tw">
          <table>
            <thead>
              <tr>
                <th>time</th>
                <th>float</th>
                <th class="n">at</th>
              </tr>
            </thead>
            <tbody>
              {night.floats.map(({ at, drum, role, wet, litres }) => (
                <tr key={`${drum} ${role} ${at}`}>
                  <td>{timeIn(night.timezone, at)}</td>
                  <td>
                    {titleOf(drum)}, {role}: {wet ? "wet" : "dry"}
                  </td>
                  <td class="n">{litres === null ? "" : `${litres.toFixed(0)} L`}</td>
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
      <h2>Draws {night.draws.length === 0 && <small>none seen</small>}</h2>
      {night.draws.length > 0 && (
        <div class="tw">
          <table>
            <tbody>
              {night.draws.map(({ from, drum, litres }) => (
                <tr key={`${drum} ${from}`}>
                  <td>{timeIn(night.timezone, from)}</td>
                  <td>{titleOf(drum)}</td>
                  <td class="n">{litres.toFixed(0)} L</td>
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
      <h2>Alarms {night.alarms.length === 0 && <small>none</small>}</h2>
      <ul class="log">
        {night.alarms.map((alarm) => {
          const { key, occurrence, raisedAt, raisedInNight, attention, endedAt, seenBy, seenAt, state } =
            alarm;
          const said = [
            ...(alarm.value === null
              ? []
              : [
                  `${figure(alarm.value)}${alarm.unit === "uS/cm" ? " µS/cm" : alarm.unit === "1" ? "" : ` ${alarm.unit}`}`,
                ]),
            ...(seenBy === null
              ? []
              : [`seen by ${seenBy}${seenAt === null ? "" : ` ${timeIn(zone, seenAt)}`}`]),
            endedAt === null ? stateWords(state) : `ended ${timeIn(zone, endedAt)}`,
          ];
          return (
            <li key={`${key} ${occurrence}`}>
              <time dateTime={raisedAt}>{raisedInNight ? timeIn(zone, raisedAt) : "before"}</time>
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
      <h2>Nodes {night.nodes.length === 0 && <small>all heard</small>}</h2>
      {night.nodes.map(({ node, silentSeconds, starts }) => (
        <p class="sm" key={node}>
          <b>{node}</b> ·{" "}
          {silentSeconds > 0 ? `silent for ${duration(silentSeconds * 1000)}` : "heard throughout"}
          {starts > 0 && ` · started ${starts === 1 ? "once" : `${starts} times`}`}
        </p>
      ))}
    </section>
  );
}

function Notes({ night, changed }: Of & { readonly changed: () => void }) {
  const [text, write] = useState("");
  const [said, say] = useState("");
  const notes = night.acts.filter(
    ({ what, subject }) => what === "note" && (subject === "" || subject === noteSubject(night.date)),
  );
  const others = night.acts.filter((act) => !notes.includes(act));
  const save = async () => {
    const sent = await noteOnNight(night.date, text.trim());
    say(sent.taken ? "Saved." : sent.problem);
    if (!sent.taken) return;
    write("");
    changed();
  };
  return (
    <>
      {others.length > 0 && (
        <section class="sheet">
          <h2>Done by people</h2>
          <ul class="log">
            {others.map(({ at, by, what, subject, note }) => (
              <li key={`${at} ${what} ${subject}`}>
                <time dateTime={at}>{timeIn(night.timezone, at)}</time>
                <span>
                  {by}: {what.replaceAll("-", " ")}
                  {subject === "" ? "" : `, ${titleOf(subject)}`}
                  {note === null ? "" : `, “${note}”`}
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <section class="sheet">
        <h2>Notes</h2>
        {notes.map(({ at, by, note }) => (
          <p class="sm" key={at}>
            {note} <span class="soft">· {by}</span>
          </p>
        ))}
        {mayAct.value && (
          <div class="noprint form">
            <label class="field">
              <span class="vh">Note on this night</span>
              <textarea
                rows={2}
                maxLength={2000}
                value={text}
                onInput={({ currentTarget }) => write(currentTarget.value)}
              />
            </label>
            <button type="button" class="btn" disabled={text.trim() === ""} onClick={() => void save()}>
              Save the note
            </button>
            <p role="status" class="sm">
              {said}
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
