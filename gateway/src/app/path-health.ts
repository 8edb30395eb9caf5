import { good, type Health } from "./parts.ts";

/** What is known of the path's stores. */
export interface StoresNow {
  /** The file that can't be written now; null where all can. */
  readonly failure: string | null;
  /** Whether what comes may still wait: false while intake is held back. */
  readonly hasRoom: boolean;
  /** What was said at the start of a store that was behind its checkpoint. */
  readonly behind: string | null;
}

/**
 * How the path is by its stores: one that can't be written is a lesser fault as long as what it should hold may wait; once
 * that is as much as may, no node is answered any more, and the gateway is not ready.
 */
export function pathHealth({ failure, hasRoom, behind }: StoresNow): Health {
  if (failure !== null && !hasRoom)
    return {
      state: "failed",
      text: `${failure} can't be written, and as much waits for it as may: nodes are not answered until it can. Look at the disk and at who holds the file.`,
    };
  if (failure !== null)
    return {
      state: "degraded",
      text: `${failure} can't be written now; what it should hold is kept and tried again`,
    };
  return behind === null ? good : { state: "degraded", text: behind };
}
