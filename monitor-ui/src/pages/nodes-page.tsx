import { NodeList } from "../components/node-list.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { line } from "../data/state.ts";

/** The page Nodes: whether each is heard, what was lost, repeated or refused, channels that belong to nothing yet. */
export function NodesPage() {
  const nodes = line.value?.nodes ?? [];
  const empty = line.value === null ? "Waiting for the gateway…" : "Nothing heard yet.";
  return (
    <PageFrame title="Nodes">
      {nodes.length === 0 ? <p class="soft">{empty}</p> : <NodeList nodes={nodes} />}
    </PageFrame>
  );
}
