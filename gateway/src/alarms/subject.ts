/** What an alarm can be about. */
export type AlarmSubjectKind = "point" | "drum" | "floor" | "node" | "site" | "gateway";

/** A place of the line, one of its nodes, the site or the gateway. */
export interface AlarmSubject {
  readonly kind: AlarmSubjectKind;
  readonly id: string;
  /** How it is called in an alarm's key. Never taken apart. */
  readonly name: string;
}

/** A subject whose name is its id. */
export const subjectOf = (kind: AlarmSubjectKind, id: string): AlarmSubject => ({ kind, id, name: id });
