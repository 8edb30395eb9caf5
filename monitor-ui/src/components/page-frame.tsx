import type { LineView } from "@drumlin/gateway/contract";
import type { ComponentChildren } from "preact";
import { unseen } from "../data/alarm-state.ts";
import { me } from "../data/me.ts";
import { route } from "../data/route.ts";
import { alarms, gatewayNowMs, heardMs, line, lost, nowMs } from "../data/state.ts";
import { litresOf, wordOf } from "../format/drum-facts.ts";
import { isElsewhere, zone } from "../format/locale.ts";
import { lostSince } from "../format/lost-since.ts";
import { clock, duration, figure } from "../format/numbers.ts";
import { toShown, unitOf, volume } from "../format/units.ts";
import { capital, verdictWords } from "../format/words.ts";
import { judgedPoint } from "../line/judged-point.ts";
import { lookNow } from "../line/look-now.ts";
import { say, w } from "../words/words.ts";
import { Account } from "./account.tsx";
import { AlarmSound } from "./alarm-sound.tsx";
import { Critical, isCritical } from "./critical.tsx";
import { DrumName, WholeName } from "./drum-name.tsx";
import { Icon } from "./icon.tsx";
import { WorkBar } from "./work-bar.tsx";

/** Pages of the way through; on a phone the bottom bar has room for five, the others stand under More. */
const pages = [
  { name: "", title: "line", icon: "line", phone: true },
  { name: "nights", title: "nights", icon: "moon", phone: true },
  { name: "trend", title: "trend", icon: "trend", phone: true },
  { name: "alarms", title: "alarms", icon: "alarm", phone: true },
  { name: "nodes", title: "nodes", icon: "node", phone: false },
  { name: "messages", title: "messages", icon: "bell", phone: false },
  { name: "more", title: "more", icon: "more", phone: true },
] as const;

function LostBar() {
  if (!lost.value) return null;
  return (
    <section class="bar-lost" aria-label={w.frame.noContact}>
      <Icon name="lost" />
      <span>
        <b>{lostSince()}</b>, {say(w.frame.lostWhat, { duration: duration(nowMs.value - heardMs.value) })}
      </span>
    </section>
  );
}

/** On a phone the word and the litres of each drum: on every page but Line, and there too while an alarm fills the screen. A drawing has the room for itself. */
function Strip() {
  const isOnLine = route.value === "";
  if (!line.value || route.value.startsWith("draw") || (isOnLine && !alarms.value.some(isCritical)))
    return null;
  return (
    <div class="strip">
      {line.value.drums.map((drum) => {
        const litres = litresOf(drum);
        const { word } = wordOf(drum);
        return (
          <a key={drum.id} href={`#drums/${drum.id}`}>
            <DrumName title={drum.title} />
            <b class={word}>{verdictWords(word)}</b>
            <span>{litres === null ? "" : volume(litres)}</span>
          </a>
        );
      })}
      {isOnLine && <JudgedWater shown={line.value} />}
    </div>
  );
}

/** The water that comes in, by the point with a limit. */
function JudgedWater({ shown }: { readonly shown: LineView }) {
  const point = judgedPoint();
  if (!point) return null;
  const { look } = lookNow(point, shown);
  const { value } = point.conductivity25;
  const isKnown = look !== "stale" && look !== "noprobe" && value !== null;
  return (
    <a href={`#points/${point.id}`}>
      <DrumName title={point.title} />
      <b class={look === "over" ? "hold" : ""}>
        {isKnown ? figure(toShown("conductivity25", value)) : w.frame.notKnown}
      </b>
      <span>{isKnown ? unitOf("conductivity25") : ""}</span>
    </a>
  );
}

function Status() {
  const at = new Date(gatewayNowMs.value).toISOString();
  return (
    <div class="status">
      <span class={lost.value ? "beat gone" : "beat"} aria-hidden="true" />
      <span>
        {lost.value ? w.frame.noContact : w.frame.live}
        {!lost.value && <span class="wide">, {clock(at, gatewayNowMs.value)}</span>}
      </span>
      <AlarmSound />
      <Account />
    </div>
  );
}

/** Pages that have no way of their own belong to one that has. */
const parents: Readonly<Record<string, string>> = {
  points: "",
  drums: "",
  compare: "trend",
  draw: "more",
  people: "more",
  "line-file": "more",
};

function Nav() {
  const shown = route.value.split("/")[0] ?? "";
  const here = parents[shown] ?? shown;
  // On a phone some pages stand under More.
  const isUnderMore = pages.some(({ name, phone }) => name === here && !phone);
  const notSeen = alarms.value.filter(unseen).length;
  return (
    <nav class="nav" aria-label={w.frame.pages}>
      {pages.map(({ name, title, icon, phone }) => (
        <a
          key={name}
          href={`#${name}`}
          class={phone ? (name === "more" && isUnderMore ? "phone-here" : "") : "wide-only"}
          aria-current={here !== name ? undefined : shown === name ? "page" : "true"}
        >
          <Icon name={icon} />
          <span>{w.frame[title]}</span>
          {name === "alarms" && notSeen > 0 && (
            <span class="count">
              {notSeen}
              <span class="vh"> {w.frame.notSeen}</span>
            </span>
          )}
        </a>
      ))}
    </nav>
  );
}

interface PageFrameProps {
  readonly title: string;
  /** The page shows by itself what it is: its title is only spoken. */
  readonly spoken?: boolean;
  /** Stands beside the title: a way back, a choice. */
  readonly beside?: ComponentChildren;
  readonly children: ComponentChildren;
}

/** Header, the way to the other pages, what is lost, what must be done now, the page's title, and the caution at the end. */
export function PageFrame({ title, spoken, beside, children }: PageFrameProps) {
  return (
    <>
      <button type="button" class="skip" onClick={() => document.querySelector("h1")?.focus()}>
        {w.frame.skip}
      </button>
      <header class="top">
        <div>
          <a class="site" href="/#">
            <span>
              <WholeName title={line.value?.title ?? "Drumlin"} />
            </span>
            {line.value?.simulated && <span class="tag sim">{w.frame.simulated}</span>}
          </a>
          <Nav />
          <Status />
        </div>
      </header>
      {me.value?.setUp && (
        <section class="bar-note" aria-label={w.door.firstAccount}>
          <a href="#set-up">{w.frame.makeFirst}</a> {w.frame.untilThen}
        </section>
      )}
      <LostBar />
      <WorkBar />
      <main class={lost.value ? "old" : ""}>
        <Strip />
        <Critical />
        <div class={spoken ? "vh" : "pagehead"}>
          <h1 tabIndex={-1}>{title}</h1>
          {beside}
        </div>
        {children}
        {/* Until the line is here the page is empty: a footer would jump. */}
        {line.value !== null && (
          <footer class="foot">
            {w.frame.caution}
            {isElsewhere.value && <p>{capital(say(w.frame.houseTimes, { zone: zone.value }))}.</p>}
          </footer>
        )}
      </main>
    </>
  );
}
