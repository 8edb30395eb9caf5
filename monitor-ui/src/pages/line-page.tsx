import { Account } from "../components/account.tsx";
import { AlarmCard } from "../components/alarm-card.tsx";
import { DrumCard } from "../components/drum-card.tsx";
import { LineFlow } from "../components/line-flow.tsx";
import { NodeList } from "../components/node-list.tsx";
import { alarms, lastProblem, line, link, lost, nowMs } from "../data/state.ts";
import { duration } from "../format/numbers.ts";

/** The page Line: what stands, the drums, the line as the water runs. */
export function LinePage() {
  const shown = line.value;
  return (
    <>
      <header>
        <b>{shown?.title ?? "Drumlin"}</b>
        {shown?.simulated && <span class="sim">simulated line</span>}
        {lost.value && (
          <span class="lost" role="status">
            no word from the gateway for {duration(nowMs.value - link.value.sinceMs)}: what you see is old
          </span>
        )}
        <Account />
      </header>
      <main class={lost.value ? "old" : ""}>
        <div aria-live="assertive" class="stands">
          {alarms.value.map((alarm) => (
            <AlarmCard key={alarm.key} alarm={alarm} />
          ))}
          {lastProblem.value !== "" && (
            <p class="problem" role="status">
              {lastProblem.value}
            </p>
          )}
        </div>
        {shown === null ? (
          <p class="u">Waiting for the gateway…</p>
        ) : (
          <>
            <section class="drums">
              {shown.drums.map((drum) => (
                <DrumCard key={drum.id} drum={drum} />
              ))}
            </section>
            <LineFlow line={shown} />
            <NodeList nodes={shown.nodes} />
          </>
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
