import { fillCell, floatCell, inflowCell } from "../fills/index.ts";
import type { Drum } from "../line/index.ts";
import { latestCell } from "../measurements/index.ts";
import type { BoardView } from "../path/index.ts";
import type { Attention } from "./alarm.ts";
import type { Look } from "./condition.ts";

/** Of a look, what is asked about a drum that fills unseen. */
type Asking = Pick<Look<unknown, unknown>, "board" | "other">;

/** Its float asks for water. */
export const asksNow =
  (board: BoardView) =>
  (drum: Drum): boolean =>
    drum.control === "automatic" && stopsOf(drum).some(({ id }) => board.get(floatCell, id)?.wet === false);

/** Its float asks for water, and nothing tells whether it comes. */
const asksUnseen = (board: BoardView, drum: Drum): boolean =>
  asksNow(board)(drum) && board.get(inflowCell, drum.id)?.flowing == null;

/** Whether a drum fills as far as anybody knows. */
export const fillsNow =
  (board: BoardView) =>
  (drum: Drum): boolean =>
    board.get(fillCell, drum.id)?.endedAtMs === null || asksUnseen(board, drum);

const stopsOf = ({ floats }: Drum) => floats.filter(({ role }) => role === "stop");
/** What speaks against a stop float before it has failed. */
export const doubts = ["float-unproven", "float-stuck", "float-disagrees"] as const;

const hasFailed = ({ other }: Asking, { id }: Drum): boolean => other("drum-not-stopping", id) !== null;
const isInDoubt = ({ other }: Asking, drum: Drum): boolean =>
  stopsOf(drum).some(({ id }) => doubts.some((condition) => other(condition, id) !== null));

/**
 * Litres that were in a filling drum when it was last heard; where no level tells and its stop has not failed, no more than
 * where its float trips. Null: nobody knows.
 */
function lastLitres(look: Asking, drum: Drum): number | null {
  const { board } = look;
  const measured = board.get(latestCell, `drum/${drum.id}/volume`)?.measurement.value ?? null;
  if (measured !== null || hasFailed(look, drum)) return measured;
  const [stop] = stopsOf(drum);
  return (stop && board.get(floatCell, stop.id)?.setL) ?? stop?.tripsAtL ?? null;
}

/** From when a filling drum was last heard until it overflows, as far as level and flow were known, ms; null: nobody knows. */
function leftMs(look: Asking, drum: Drum): number | null {
  const litres = lastLitres(look, drum);
  const flow = look.board.get(inflowCell, drum.id)?.flowLPerMin ?? drum.greatestFlowLPerMin;
  return litres === null || flow === null || flow <= 0 ? null : ((drum.volumeL - litres) / flow) * 60_000;
}

/** Where the stop is in doubt, silence wakes after half the time left to overflow, and not before. */
const leastBeforeWakeMs = 120_000;

/** How urgent it is that a node has been silent for so long, by the drums on it that fill. */
export function silenceAttention(look: Asking, filling: readonly Drum[], silentMs: number): Attention {
  const isUrgent = filling.some(
    (drum) =>
      isStopDoubted(look, drum) && silentMs > Math.max(leastBeforeWakeMs, (leftMs(look, drum) ?? 0) / 2),
  );
  if (isUrgent) return "wake";
  return filling.length > 0 ? "tell" : "today";
}

/** Whether a drum's stop has failed already, or something speaks against its float. */
const isStopDoubted = (look: Asking, drum: Drum): boolean => hasFailed(look, drum) || isInDoubt(look, drum);
