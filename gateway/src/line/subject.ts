/** What a float of a drum is for. */
export type FloatRole = "stop" | "start" | "overflow" | "low";

/** Subjects whose id is that of the thing itself: a point, the flow past a point, a drum, the inlet of a drum … */
interface PlainSubject {
  readonly kind: "point" | "flow" | "drum" | "inlet" | "waste" | "pump" | "floor" | "button" | "room";
  readonly id: string;
}

/** A float of a drum. Its id is a name and never taken apart. */
interface FloatSubject {
  readonly kind: "float";
  readonly id: string;
  readonly drum: string;
  readonly role: FloatRole;
}

/** What a channel tells of. */
export type Subject = PlainSubject | FloatSubject;

/** Of what kind a subject is. */
export type SubjectKind = Subject["kind"];

/** The float of a drum in a role, as what a channel tells of. */
export const floatSubject = (drum: string, role: FloatRole): FloatSubject => ({
  kind: "float",
  id: `${drum}.${role}`,
  drum,
  role,
});

/** The drum that a subject belongs to: the drum itself, or that of its inlet or float; null for what is no drum's. */
export function drumOf(subject: Subject): string | null {
  if (subject.kind === "float") return subject.drum;
  return subject.kind === "drum" || subject.kind === "inlet" ? subject.id : null;
}
