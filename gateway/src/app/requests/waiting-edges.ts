import { type FloatEdge, witnessCell } from "../../fills/index.ts";
import type { Line } from "../../line/index.ts";
import type { Pipeline } from "../pipeline.ts";

/**
 * Floats that had read wet once when the gateway stopped, with the time of that reading: their second one is still to be asked
 * for. That one has read dry once stands on no board; it counts with its node's next reading.
 */
export function waitingEdges({ drums }: Line, board: Pipeline["board"]): readonly FloatEdge[] {
  return drums.flatMap(({ id, floats }) => {
    const said = board.get(witnessCell, id);
    return floats.flatMap(({ id: float, channel, role }): readonly FloatEdge[] => {
      const one = role === "stop" || role === "overflow" ? said?.[role] : null;
      return one?.mayBeUp ? [{ kind: "float-edge", float, channel, tMs: one.lastMs }] : [];
    });
  });
}
