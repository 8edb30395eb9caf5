import type { z } from "zod";
import { Refusal } from "./refusal.ts";

/** Query parameters as they come; one that is given twice comes as a list, whatever the type says. */
export type Query = Readonly<Record<string, string | undefined>>;

/** The body as the schema has it. Throws Refusal `body-not-understood`. */
export function bodyOf<Schema extends z.ZodType>(schema: Schema, body: unknown): z.infer<Schema> {
  const read = schema.safeParse(body);
  if (read.success) return read.data;
  throw new Refusal(
    "body-not-understood",
    read.error.issues.map((issue) => `${issue.path.join(".") || "body"}: ${issue.message}`).join("; "),
  );
}

/** Epoch ms of a query parameter, ISO 8601 or epoch ms. Throws Refusal `query-not-understood`. */
export function timeOf(text: string | undefined, otherwise: number, name: string): number {
  if (text === undefined) return otherwise;
  const ms = /^-?\d+$/.test(text) ? Number(text) : Date.parse(text);
  if (!Number.isFinite(ms))
    throw new Refusal(
      "query-not-understood",
      `${name}=${text.slice(0, 60)} is no time: write ISO 8601 or epoch ms.`,
    );
  return ms;
}

/** A whole number of a query parameter in `[min, max]`. Throws Refusal `query-not-understood`. */
export function wholeOf(
  name: string,
  text: string | undefined,
  { otherwise, min, max }: { readonly otherwise: number; readonly min: number; readonly max: number },
): number {
  const value = text === undefined ? otherwise : Number(text);
  if (!Number.isInteger(value) || value < min || value > max)
    throw new Refusal("query-not-understood", `${name} must be a whole number from ${min} to ${max}.`);
  return value;
}
