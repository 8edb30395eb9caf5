import type { ComponentChildren } from "preact";
import { route } from "../data/route.ts";
import { alarms, lastProblem, line, link, lost, nowMs } from "../data/state.ts";
import { duration } from "../format/numbers.ts";
import { Account } from "./account.tsx";
import { AlarmSound } from "./alarm-sound.tsx";

const pages = [
  { name: "", title: "Line" },
  { name: "trend", title: "Trend" },
  { name: "alarms", title: "Alarms" },
  { name: "nodes", title: "Nodes" },
] as const;

/** Header with what is lost and who is signed in, the way to the other pages, and the caution at the end. */
export function PageFrame({ children }: { readonly children: ComponentChildren }) {
  const here = route.value.split("?")[0] ?? "";
  const unseen = alarms.value.filter(({ state }) => state.endsWith("unacknowledged")).length;
  return (
    <>
      <header>
        <b>{line.value?.title ?? "Drumlin"}</b>
        {line.value?.simulated && <span class="sim">simulated line</span>}
        {lost.value && (
          <span class="lost" role="status">
            no word from the gateway for {duration(nowMs.value - link.value.sinceMs)}: what you see is old
          </span>
        )}
        <Account />
      </header>
      <nav aria-label="Pages">
        {pages.map(({ name, title }) => (
          <a key={name} href={`#${name}`} aria-current={here === name ? "page" : undefined}>
            {title}
            {name === "alarms" && unseen > 0 ? <span class="count"> {unseen} new</span> : ""}
          </a>
        ))}
        <AlarmSound />
      </nav>
      <main class={lost.value ? "old" : ""}>
        {children}
        {lastProblem.value !== "" && (
          <p class="problem" role="status">
            {lastProblem.value}
          </p>
        )}
        <footer>
          <p>
            A second pair of eyes, never the safety device: floats and valves must be safe on their own, mains
            near water belong behind residual-current protection and to a licensed electrician. Not for
            drinking, dialysis or any medical water.
          </p>
        </footer>
      </main>
    </>
  );
}
