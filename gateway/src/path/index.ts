export { Board, CellBorderError } from "./board.ts";
export { type Cell, defineCell } from "./cell.ts";
export { Composer, type ComposerParts } from "./composer.ts";
export type { ActDone, Emit, LineInForce, PathEntry } from "./outcomes.ts";
export { actsOf, type Records } from "./records.ts";
export { type PathChanges, type PathRow, type PathTurn, type SavedPath, SavedRows } from "./saved-rows.ts";
export type {
  AnyStage,
  BoardView,
  EntryMark,
  Hears,
  PathEvent,
  Stage,
  StageContext,
  StateRow,
} from "./stage.ts";
