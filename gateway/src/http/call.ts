import type { z } from "zod";

/** Who may make a call. */
export type NeededRole = "open" | "viewer" | "operator";

/** One call of the API. */
export interface Call {
  readonly method: "get" | "post" | "delete";
  readonly path: string;
  readonly role: NeededRole;
  readonly summary: string;
  readonly answer: z.ZodType | null;
  readonly body?: z.ZodType;
  readonly query?: Readonly<Record<string, string>>;
}
