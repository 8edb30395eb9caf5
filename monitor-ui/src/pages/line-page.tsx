import { AlarmCard } from "../components/alarm-card.tsx";
import { DrumCard } from "../components/drum-card.tsx";
import { LineFlow } from "../components/line-flow.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { alarms, line } from "../data/state.ts";

/** The page Line: what stands, the drums, the line as the water runs. */
export function LinePage() {
  const shown = line.value;
  return (
    <PageFrame>
      <div class="stands">
        {alarms.value.map((alarm) => (
          <AlarmCard key={alarm.key} alarm={alarm} />
        ))}
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
        </>
      )}
    </PageFrame>
  );
}
