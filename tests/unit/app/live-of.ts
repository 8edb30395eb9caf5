import type { createPipeline } from "@drumlin/gateway/app";
import { createLiveState } from "../../../gateway/src/app/live-state.ts";

/** What pages are shown of a path whose engine time is the calendar's. */
export const liveOf = ({ board, line, engineMs }: ReturnType<typeof createPipeline>) =>
  createLiveState({
    board,
    line,
    engineMs,
    calendar: { at: (ms: number) => ms } as never,
    simulated: false,
  });
