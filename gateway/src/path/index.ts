export { Board, CellBorderError } from "./board.ts";
export { type Cell, defineCell } from "./cell.ts";
export { Composer, type ComposerParts } from "./composer.ts";
export type { ActDone, Emit, LineInForce, PathEntry } from "./outcomes.ts";
export { type PathChanges, type PathRow, type SavedPath, SavedRows } from "./saved-rows.ts";
export {
  type AnyStage,
  actsOf,
  type BoardView,
  type EntryMark,
  type Hears,
  type PathEvent,
  type Records,
  type Stage,
  type StageContext,
  type StateRow,
} from "./stage.ts";
