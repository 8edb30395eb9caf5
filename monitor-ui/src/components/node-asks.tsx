import type { NodeView } from "@drumlin/gateway/contract";
import { mayAct } from "../data/me.ts";
import { send } from "../data/send.ts";
import { say, w } from "../words/words.ts";
import { ActAnswer, ActButton, useActs } from "./use-acts.tsx";

/** Which of the boxes on the wall it is: the node blinks, where it says that it can. */
export function NodeAsks({ node: { id, requests, online } }: { readonly node: NodeView }) {
  const acts = useActs();
  if (!mayAct.value || online !== true || !requests.includes("identify")) return null;
  return (
    <div class="node-asks" ref={acts.host}>
      <div class="acts">
        <ActButton
          acts={acts}
          name={w.nodeWords.blink}
          subject={id}
          meanwhile={w.nodeWords.asking}
          done={say(w.nodeWords.blinks, { node: id })}
          send={() => send(`/api/nodes/${encodeURIComponent(id)}/request`, { kind: "identify" })}
        />
      </div>
      <ActAnswer acts={acts} />
    </div>
  );
}
