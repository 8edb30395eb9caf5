import { z } from "zod";
import { time } from "./words.ts";

/** What an account may do. */
export const roleSchema = z
  .enum(["viewer", "operator"])
  .meta({ description: "a viewer looks, an operator also acts" });
/** How pages speak and count for a person; "auto": as the browser does. */
export const settingsSchema = z
  .object({
    language: z.enum(["auto", "en", "de"]),
    numbers: z
      .enum(["auto", "en-GB", "de-DE", "fr-FR", "en-US"])
      .meta({ description: "form of numbers and dates, by a locale that has it" }),
    conductivity: z.enum(["uS/cm", "mg/L"]),
    volume: z.enum(["L", "gal"]),
    temperature: z.enum(["Cel", "degF"]),
  })
  .meta({ id: "Settings" });
/** Who is signed in on this connection, and what the page has to say about it: `GET /api/me`. */
export const meSchema = z
  .object({
    signedIn: z
      .object({ kind: z.enum(["person", "program"]), name: z.string(), role: roleSchema })
      .nullable()
      .meta({ description: "null: nobody" }),
    setUp: z.boolean().meta({ description: "no account exists yet: make the first one with the code" }),
    plain: z.boolean().meta({ description: "what is sent can be read on the way: plain HTTP on a network" }),
    given: z.boolean().meta({ description: "nobody signed in: the gateway was started so (demo)" }),
    settings: settingsSchema
      .nullable()
      .meta({ description: "what this person chose; null: nothing, or nobody with an account" }),
  })
  .meta({ id: "Me" });

/** A person's account, without anything secret. */
export const personSchema = z
  .object({
    name: z.string(),
    role: roleSchema,
    madeAt: time,
    disabled: z.boolean().meta({ description: "kept, but may not sign in" }),
  })
  .meta({ id: "Person" });
/** A program's account, without its token. */
export const tokenSchema = z
  .object({ name: z.string(), role: roleSchema, madeAt: time })
  .meta({ id: "Token" });
/** Everybody who has an account. */
export const personListSchema = z.object({ items: z.array(personSchema), next: z.null() });
/** Every program that has a token. */
export const tokenListSchema = z.object({ items: z.array(tokenSchema), next: z.null() });
/** A program's token, the one time that it is told. */
export const newTokenSchema = z
  .object({ name: z.string(), role: roleSchema, token: z.string().meta({ description: "shown once" }) })
  .meta({ id: "NewToken" });
/** A node's secret, the one time that it is told. */
export const newNodeSecretSchema = z
  .object({ node: z.string(), secret: z.string().meta({ description: "shown once" }) })
  .meta({ id: "NewNodeSecret" });
/** What was changed or refused, by whom, with before and after; newest first. */
export const auditListSchema = z.object({
  items: z.array(
    z
      .object({
        at: time,
        by: z
          .string()
          .meta({ description: "a person, program:NAME, command line; an address for a refused sign-in" }),
        what: z.string(),
        subject: z.string(),
        refused: z.string().nullable(),
        before: z.record(z.string(), z.unknown()).nullable(),
        after: z.record(z.string(), z.unknown()).nullable(),
      })
      .meta({ id: "AuditEntry" }),
  ),
  next: z.string().nullable(),
});

const password = z.string().max(1024);
const accountName = z.string().max(100);
/** A person signs in. Too many wrong tries are answered 429 with the seconds to wait. */
export const signInSchema = z.object({ name: accountName, password });
/** The first account, with the code that the gateway printed. */
export const setUpSchema = z.object({ code: z.string().max(40), name: accountName, password });
/** A new account; the password is held to the rules of `People.add`. */
export const newPersonSchema = z.object({ name: accountName, role: roleSchema, password });
/** A person changes the own password; other sessions end. */
export const passwordChangeSchema = z.object({ current: password, password });
/** A new program. */
export const newTokenBodySchema = z.object({ name: accountName, role: roleSchema });
/** An operator sets another's password. */
export const passwordBodySchema = z.object({ password });
/** An operator stops an account, or lets it in again. */
export const disabledBodySchema = z.object({ disabled: z.boolean() });
/** An operator changes what somebody may do; the last operator stays one. */
export const roleBodySchema = z.object({ role: roleSchema });
/** Who is signed in. */
export type Me = z.infer<typeof meSchema>;
/** What a person chose of pages. */
export type PersonSettings = z.infer<typeof settingsSchema>;
/** A person's account. */
export type Person = z.infer<typeof personSchema>;
/** A program's account. */
export type Token = z.infer<typeof tokenSchema>;
