import type { ComponentChildren } from "preact";
import { unseen } from "../data/alarm-order.ts";
import { route } from "../data/route.ts";
import { alarms, gatewayAheadMs, gatewayNowMs, heardMs, line, lost, nowMs } from "../data/state.ts";
import { clock, duration } from "../format/numbers.ts";
import { Account } from "./account.tsx";
import { AlarmSound } from "./alarm-sound.tsx";

const pages = [
  { name: "", title: "Line" },
  { name: "nights", title: "Nights" },
  { name: "trend", title: "Trend" },
  { name: "alarms", title: "Alarms" },
  { name: "nodes", title: "Nodes" },
] as const;

function LostBar() {
  if (!lost.value) return null;
  const heard = new Date(heardMs.value + gatewayAheadMs.value).toISOString();
  return (
    <div class="bar-lost">
      <b>
        No contact with the gateway since {clock(heard, gatewayNowMs.value)}, no word from it for{" "}
        {duration(nowMs.value - heardMs.value)}.
      </b>{" "}
      <span>Everything below is old. Nothing is judged, no alarm will ring, nothing can be changed.</span>
    </div>
  );
}

interface PageFrameProps {
  readonly title: string;
  /** The page shows by itself what it is: its title is only spoken. */
  readonly spoken?: boolean;
  readonly children: ComponentChildren;
}

/** Header, the way to the other pages, what is lost, the page's title, and the caution at the end. */
export function PageFrame({ title, spoken, children }: PageFrameProps) {
  const here = route.value.split("?")[0] ?? "";
  const notSeen = alarms.value.filter(unseen).length;
  return (
    <>
      <button type="button" class="skip" onClick={() => document.querySelector("h1")?.focus()}>
        Skip to the page
      </button>
      <header>
        <b class="site">{line.value?.title ?? "Drumlin"}</b>
        {line.value?.simulated && <span class="tag sim">simulated</span>}
        <span class={lost.value ? "beat gone" : "beat"}>{lost.value ? "No contact" : "Live"}</span>
        <Account />
      </header>
      <nav aria-label="Pages">
        {pages.map(({ name, title: word }) => (
          <a key={name} href={`#${name}`} aria-current={here === name ? "page" : undefined}>
            {word}
            {name === "alarms" && notSeen > 0 ? (
              <span class="count">
                {notSeen}
                <span class="hidden"> not seen</span>
              </span>
            ) : (
              ""
            )}
          </a>
        ))}
        <AlarmSound />
      </nav>
      <LostBar />
      <main class={lost.value ? "old" : ""}>
        <h1 class={spoken ? "hidden" : ""} tabIndex={-1}>
          {title}
        </h1>
        {children}
        <footer>
          <p>
            A second pair of eyes, never the safety device. Floats and valves must be safe on their own; keep
            mains near water behind residual-current protection, fitted by a licensed electrician. Not for
            drinking, dialysis or any medical water.
          </p>
        </footer>
      </main>
    </>
  );
}
