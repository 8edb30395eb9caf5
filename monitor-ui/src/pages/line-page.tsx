import { AlarmList } from "../components/alarm-list.tsx";
import { DrumCard } from "../components/drum-card.tsx";
import { LineFlow } from "../components/line-flow.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { line, lost } from "../data/state.ts";

/** The page Line: what stands, the drums, the line as the water runs. */
export function LinePage() {
  const shown = line.value;
  return (
    <PageFrame title="Line" spoken>
      <AlarmList />
      {shown === null ? (
        <p class="u">{lost.value ? "Still no answer from the gateway. Is its machine on?" : "Connecting…"}</p>
      ) : (
        <>
          <section class="drums" aria-label="Drums">
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
