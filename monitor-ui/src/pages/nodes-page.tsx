import { DerivationCard } from "../components/derivation-card.tsx";
import { NodeSecret, WaitsFor } from "../components/first-steps.tsx";
import { InfluxCard } from "../components/influx-card.tsx";
import { NodeList } from "../components/node-list.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { mayAct } from "../data/me.ts";
import { line } from "../data/state.ts";
import { w } from "../words/words.ts";

/** The page Nodes: whether each is heard, what was lost, repeated or refused, channels that belong to nothing yet. */
export function NodesPage() {
  const nodes = line.value?.nodes ?? [];
  const empty = line.value === null ? w.frame.waiting : w.point.nothingHeardYet;
  return (
    <PageFrame title={w.frame.nodes}>
      {nodes.length === 0 ? <p class="soft">{empty}</p> : <NodeList nodes={nodes} />}
      {line.value && <WaitsFor line={line.value} />}
      {mayAct.value && line.value && line.value.waitsFor.length > 0 && (
        <div class="acts">
          {line.value.waitsFor.map(({ node }) => (
            <NodeSecret key={node} node={node} />
          ))}
        </div>
      )}
      <DerivationCard />
      <InfluxCard />
    </PageFrame>
  );
}
