import type { LineView } from "@drumlin/gateway/contract";
import type { ComponentChildren } from "preact";
import { lost } from "../data/state.ts";
import { PointRow } from "./point-row.tsx";

/** Points and stages as the water runs, depth first from each source; a branch is indented at its point. */
function Branch({
  line,
  from,
  seen,
}: {
  readonly line: LineView;
  readonly from: string;
  readonly seen: readonly string[];
}): ComponentChildren {
  const point = line.points.find(({ id }) => id === from);
  if (!point || seen.includes(from)) return null;
  const stages = line.stages.filter((stage) => stage.from === from);
  const drums = line.drums.filter((drum) => drum.fedBy === from);
  const quiet =
    !point.hasProbe &&
    stages.length === 1 &&
    drums.length === 0 &&
    point.limit === null &&
    stages[0]?.kind !== "resin";
  return (
    <>
      {!quiet && (
        <div class={!lost.value && point.run.flowing ? "step runs" : "step"}>
          <PointRow point={point} />
        </div>
      )}
      {drums.map((drum) => (
        <div class={!lost.value && drum.filling ? "step runs" : "step"} key={drum.id}>
          <span class="to">
            → {drum.title}
            {lost.value || drum.filling === null ? "" : drum.filling ? " · filling" : " · stopped"}
          </span>
        </div>
      ))}
      {stages.map((stage) => (
        <div key={stage.id}>
          <div class={!lost.value && point.run.flowing ? "step runs" : "step"}>
            <span class="stage">{stage.title}</span>
            {stage.removal !== null && stage.kind === "resin" && point.run.flowing && !lost.value && (
              <span class="u n"> removes {(stage.removal * 100).toFixed(1)} %</span>
            )}
          </div>
          <Branch line={line} from={stage.to} seen={[...seen, from]} />
        </div>
      ))}
    </>
  );
}

/** The whole line from its sources. */
export function LineFlow({ line }: { readonly line: LineView }) {
  const sources = line.points.filter(({ id }) => !line.stages.some((stage) => stage.to === id));
  return (
    <section class="line" aria-label="The line, as the water runs">
      <h2>The line, as the water runs</h2>
      {sources.map(({ id }) => (
        <Branch key={id} line={line} from={id} seen={[]} />
      ))}
    </section>
  );
}
