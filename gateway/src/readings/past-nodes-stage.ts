import type { Stage } from "../path/index.ts";
import { afterPresence, nodeCell } from "./node-now.ts";
import type { NodePresence } from "./reading.ts";

/** Stands first where stored readings are run again: what nodes announced, without their messages. */
export function createPastNodesStage(): Stage<NodePresence> {
  return {
    name: "readings",
    version: 1,
    owns: [nodeCell],
    reads: [],
    hears: {
      presence(presence, ctx) {
        ctx.put(nodeCell, presence.node, afterPresence(ctx.get(nodeCell, presence.node), presence));
      },
    },
    dirty: () => [],
    load: () => true,
    seed(records, ctx) {
      for (const presence of records.last("presence") as readonly NodePresence[])
        ctx.put(nodeCell, presence.node, afterPresence(ctx.get(nodeCell, presence.node), presence));
    },
  };
}
