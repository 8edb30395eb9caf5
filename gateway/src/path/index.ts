export { Board, CellBorderError } from "./board.ts";
export { type Cell, defineCell } from "./cell.ts";
export {
  type ActDone,
  Composer,
  type ComposerParts,
  type Emit,
  type LineInForce,
  type PathEntry,
} from "./composer.ts";
export { type PathChanges, type PathRow, type SavedPath, SavedRows } from "./saved-rows.ts";
export type {
  AnyStage,
  BoardView,
  EntryMark,
  Hears,
  PathEvent,
  Records,
  Stage,
  StageContext,
  StateRow,
} from "./stage.ts";
