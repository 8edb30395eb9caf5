/** What somebody may do: a viewer looks, an operator also acts. */
export type Role = "viewer" | "operator";

/** The roles, least first. */
export const roles: readonly Role[] = ["viewer", "operator"];

/** Who asks. */
export interface Who {
  readonly kind: "person" | "program";
  readonly name: string;
  readonly role: Role;
}

/** How acts and the audit name somebody: a person by name, a program as `program:NAME` (no person's name has a colon). */
export function byOf({ kind, name }: Who): string {
  return kind === "person" ? name : `program:${name}`;
}
