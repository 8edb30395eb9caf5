import { defineCell } from "../path/index.ts";

/** What somebody works on. */
export interface WorkSubject {
  readonly kind: "stage" | "drum" | "floor";
  readonly id: string;
}

/** Work in progress, or work that nobody has said is over. */
export interface WorkNow {
  readonly subject: WorkSubject;
  /** Who said so; a button says so itself. */
  readonly by: string;
  readonly sinceMs: number;
  readonly untilMs: number;
  /** Its time is up, and nobody has said that it is done. */
  readonly isForgotten: boolean;
}

/** Work began (again), or is over: by a person, by its button, by its time. */
export interface WorkChange {
  readonly kind: "work";
  readonly atMs: number;
  readonly subject: WorkSubject;
  readonly by: string;
  /** The button whose press it was; null: a person said so on the page, or its time is up. */
  readonly button: string | null;
  /** Until when what it can cause is silent; null: it is over. */
  readonly untilMs: number | null;
}

/** The name of a subject among all that can be worked on. */
export const workKey = ({ kind, id }: WorkSubject): string => `${kind}/${id}`;

/** What somebody works on, by `workKey`. */
export const workCell = defineCell<WorkNow>("work");
