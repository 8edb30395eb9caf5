import { iso as isoOf, type Quantity } from "../../http/index.ts";
import { type MeasuredQuantity, nodeOf, quantityUnits } from "../../line/index.ts";
import { type Latest, latestCell, seriesLifeMs } from "../../measurements/index.ts";
import type { BoardView } from "../../path/index.ts";
import { nodeCell } from "../../readings/index.ts";

/** What a view is made of: the board, engine time, and the calendar in which times are shown. */
export interface Looking {
  readonly board: BoardView;
  /** Engine time: how old something is goes by it. */
  readonly nowMs: number;
  /** The calendar's time of an engine time, epoch ms. */
  readonly at: (engineMs: number) => number;
}

/** ISO 8601, in the calendar, of an engine time; null stays null. */
export function iso(looking: Looking, engineMs: number): string;
export function iso(looking: Looking, engineMs: number | null): string | null;
export function iso({ at }: Looking, engineMs: number | null): string | null {
  return engineMs === null ? null : isoOf(at(engineMs));
}

/**
 * The newest measurement of a series, where it is about now; undefined where there is none or it is old. After a start
 * the path gives every series time to be heard again; what is shown is as old as it is.
 */
export function currentOf({ board, nowMs }: Looking, series: string): Latest | undefined {
  const latest = board.get(latestCell, series);
  if (!latest || latest.gone || nowMs >= latest.dueMs) return undefined;
  const { channel, tMs } = latest.measurement;
  return nowMs < tMs + seriesLifeMs(board.get(nodeCell, nodeOf(channel)), latest.spacingMs)
    ? latest
    : undefined;
}

/** A series by its name: its value while it is about now, else null with flag 9 and when it was last known. */
export function seriesView(looking: Looking, series: string, quantity: MeasuredQuantity): Quantity {
  const unit = quantityUnits[quantity];
  const current = currentOf(looking, series)?.measurement;
  if (!current) {
    const old = looking.board.get(latestCell, series)?.measurement;
    return {
      value: null,
      unit,
      flag: 9,
      at: old ? iso(looking, old.tMs) : null,
      reasons: old ? ["old"] : [],
      ...(old && old.value !== null ? { was: old.value } : {}),
    };
  }
  return {
    value: current.value,
    unit,
    flag: current.flag,
    at: iso(looking, current.tMs),
    reasons: [...current.reasons],
    ...(current.estimated ? { estimated: true } : {}),
    ...(current.belowResolution ? { belowResolution: true } : {}),
  };
}

/** A quantity of a point or drum, as `seriesView` tells it. */
export const quantityView = (
  looking: Looking,
  kind: "point" | "drum",
  id: string,
  quantity: MeasuredQuantity,
): Quantity => seriesView(looking, `${kind}/${id}/${quantity}`, quantity);

/** What was measured of a point or drum, the flow past a point among it. */
export function quantitiesOf({ board }: Looking, kind: "point" | "drum", id: string): string[] {
  const isKnown = (series: string) => board.get(latestCell, series) !== undefined;
  return (Object.keys(quantityUnits) as MeasuredQuantity[]).filter(
    (quantity) =>
      quantity !== "state" &&
      (isKnown(`${kind}/${id}/${quantity}`) ||
        (kind === "point" && quantity === "flow" && isKnown(`flow/${id}/flow`))),
  );
}
