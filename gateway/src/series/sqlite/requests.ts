import type { FileFault } from "../../database/index.ts";
import type { OwedRange } from "../batch-log.ts";
import type { RowBatch } from "../columns.ts";
import type { HeadView } from "../head.ts";
import type { NumberedRows } from "../named-rows.ts";
import type { MoveProgress } from "./moving.ts";
import type { CommitRequest, NumberedNames } from "./store-writer.ts";

/** What the writing thread is asked. */
export type WriterRequest =
  | ({ readonly type: "commit" } & CommitRequest)
  | { readonly type: "write"; readonly names: NumberedNames; readonly batch: RowBatch }
  | {
      readonly type: "stage";
      readonly job: string;
      readonly names: NumberedNames;
      readonly pieces: readonly NumberedRows[];
    }
  | { readonly type: "publish"; readonly job: string }
  | { readonly type: "discard"; readonly job: string }
  | { readonly type: "staged" }
  | { readonly type: "know-none-after"; readonly seq: number }
  | { readonly type: "follow"; readonly follower: string }
  | { readonly type: "sent"; readonly follower: string; readonly batch: number }
  | { readonly type: "paying"; readonly follower: string }
  | { readonly type: "paid"; readonly follower: string; readonly range: OwedRange }
  | { readonly type: "owe"; readonly follower: string; readonly ranges: readonly OwedRange[] }
  | { readonly type: "free-oldest" }
  | { readonly type: "remove-earlier" }
  | { readonly type: "close" };

/** What the reading thread is asked. */
export type ReaderRequest =
  | {
      readonly type: "range";
      readonly series: number;
      readonly fromMs: number;
      readonly toMs: number;
      readonly head: HeadView;
    }
  | {
      readonly type: "buckets";
      readonly series: number;
      readonly fromMs: number;
      readonly toMs: number;
      readonly buckets: number;
      readonly head: HeadView;
    }
  | { readonly type: "latest"; readonly series: number; readonly head: HeadView }
  | { readonly type: "next-batch"; readonly follower: string }
  | { readonly type: "owed"; readonly follower: string; readonly limit: number }
  | { readonly type: "behind"; readonly follower: string }
  | { readonly type: "leave-earlier" }
  | { readonly type: "close" };

/** What the writing thread says when it has started: what the file holds. */
export interface WriterReady {
  readonly names: NumberedNames;
  /** Rows that the file has had in its life. */
  readonly rows: number;
  /** The last entry all rows of which are stored; null where none was ever told. */
  readonly storedSeq: number | null;
  readonly moving: MoveProgress | null;
  /** What was wrong with the file, where this start made it again. */
  readonly mended: FileFault | null;
}

/** What a thread tells without being asked. */
export interface ThreadTold {
  readonly moving?: MoveProgress;
  /** Why what it does by itself (sealing, moving) fails; null once it goes on. */
  readonly trouble?: string | null;
  /** How many pieces of the file could not be read so far. */
  readonly unreadable?: number;
}
