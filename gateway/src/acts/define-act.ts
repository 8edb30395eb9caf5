import { z } from "zod";
import type { CompiledLine } from "../line/index.ts";
import type { ActBase, ActRefused } from "./act-base.ts";

/** An act before the gateway has given it its id and who. */
export type Given<Act> = Act extends unknown ? Omit<Act, "id" | "by"> : never;

/** What somebody sent, read. */
interface Sent<Body> {
  readonly body: Body;
  /** What stands in the braces of the path. */
  readonly params: Readonly<Record<string, string>>;
  /** When, calendar time, epoch ms. */
  readonly nowMs: number;
}

/** What a call gives back: what was entered so far, the alarms that stand, the line, or nothing. */
export type ActAnswer = "entered" | "alarms" | "line" | "nothing";

/** What is said of one kind of act. */
export interface ActRow<Act extends ActBase, Body> {
  /** More than one where one call gives either of them. */
  readonly types: readonly Act["type"][];
  /** POST; what stands in braces is handed to `given`. */
  readonly path: string;
  readonly role: "operator";
  readonly summary: string;
  /** What is sent. */
  readonly schema: z.ZodType<Body>;
  readonly answer: ActAnswer;
  /** Where those that were taken are listed too: what the list is called. */
  readonly list?: string;
  /** The act that was sent. */
  readonly given: (sent: Sent<Body>) => Given<Act>;
  /** What is stored of it, besides what every act carries. What is more is kept. */
  readonly stored: z.ZodRawShape;
  /** Brings what earlier versions stored to the present form, before it is checked. */
  readonly upcast?: (stored: Readonly<Record<string, unknown>>) => Readonly<Record<string, unknown>>;
  /** What it is about, for the audit. */
  readonly subject: (act: Act) => string;
  /** Null when the line has what it is about, or when it is about nothing on the line. */
  readonly known?: (act: Act, line: CompiledLine | null) => ActRefused | null;
}

/** One kind of act: its call, its check, its reading. */
export interface ActKind<Act extends ActBase = ActBase, Body = unknown> {
  readonly types: readonly Act["type"][];
  readonly path: string;
  readonly role: "operator";
  readonly summary: string;
  readonly schema: z.ZodType<Body>;
  readonly answer: ActAnswer;
  readonly list: string | null;
  given(sent: Sent<Body>): Given<Act>;
  subject(act: Act): string;
  known(act: Act, line: CompiledLine | null): ActRefused | null;
  /** The act in its present form, or what is wrong with what was stored. */
  read(stored: Readonly<Record<string, unknown>>): Act | z.ZodError;
}

const base = {
  id: z.string(),
  by: z.string(),
  validFromMs: z.number().optional(),
  note: z.string().optional(),
};

/** Makes a kind of act out of what is said of it. */
export function defineAct<Act extends ActBase, Body>(row: ActRow<Act, Body>): ActKind<Act, Body> {
  const { types, path, role, summary, schema, answer, list = null, given, subject } = row;
  const stored = z.looseObject({ ...base, type: z.enum(types), ...row.stored });
  return {
    types,
    path,
    role,
    summary,
    schema,
    answer,
    list,
    given,
    subject,
    known: row.known ?? (() => null),
    read(found) {
      const read = stored.safeParse(row.upcast ? row.upcast(found) : found);
      return read.success ? (read.data as unknown as Act) : read.error;
    },
  };
}

/** Null when it is there, else the refusal by name. */
export function refuseUnless(
  isThere: boolean,
  what: "drum" | "stage" | "float" | "floor" | "point",
  id: string,
): ActRefused | null {
  return isThere ? null : { code: `no-such-${what}`, message: `The line has no ${what} ${id}.` };
}
