import type { AlarmChangeView, AlarmView } from "./alarms.ts";
import type { FillView } from "./fills.ts";
import type { DrumView, LineView, PointView } from "./line.ts";
import type { NodeView } from "./node.ts";

/** Events of the live stream, by their SSE event name. */
export type LiveEvent =
  | {
      readonly event: "snapshot";
      readonly data: { readonly line: LineView; readonly alarms: readonly AlarmView[] };
    }
  | { readonly event: "heartbeat"; readonly data: { readonly now: string } }
  | { readonly event: "line"; readonly data: LineView }
  | { readonly event: "point"; readonly data: PointView }
  | { readonly event: "drum"; readonly data: DrumView }
  | { readonly event: "fill"; readonly data: FillView }
  | { readonly event: "node"; readonly data: NodeView }
  | { readonly event: "alarm"; readonly data: AlarmChangeView };
