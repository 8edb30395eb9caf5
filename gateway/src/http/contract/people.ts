import { z } from "zod";
import { time } from "./words.ts";

export const roleSchema = z
  .enum(["viewer", "operator"])
  .meta({ description: "a viewer looks, an operator also acts" });
export const meSchema = z
  .object({
    signedIn: z
      .object({ kind: z.enum(["person", "program"]), name: z.string(), role: roleSchema })
      .nullable()
      .meta({ description: "null: nobody" }),
    setUp: z.boolean().meta({ description: "no account exists yet: make the first one with the code" }),
    plain: z.boolean().meta({ description: "what is sent can be read on the way: plain HTTP on a network" }),
    given: z.boolean().meta({ description: "nobody signed in: the gateway was started so (demo)" }),
  })
  .meta({ id: "Me" });

export const personSchema = z
  .object({
    name: z.string(),
    role: roleSchema,
    madeAt: time,
    disabled: z.boolean().meta({ description: "kept, but may not sign in" }),
  })
  .meta({ id: "Person" });
export const tokenSchema = z
  .object({ name: z.string(), role: roleSchema, madeAt: time })
  .meta({ id: "Token" });
export const personListSchema = z.object({ items: z.array(personSchema), next: z.null() });
export const tokenListSchema = z.object({ items: z.array(tokenSchema), next: z.null() });
export const newTokenSchema = z
  .object({ name: z.string(), role: roleSchema, token: z.string().meta({ description: "shown once" }) })
  .meta({ id: "NewToken" });
export const newNodeSecretSchema = z
  .object({ node: z.string(), secret: z.string().meta({ description: "shown once" }) })
  .meta({ id: "NewNodeSecret" });
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
export const signInSchema = z.object({ name: accountName, password });
export const setUpSchema = z.object({ code: z.string().max(40), name: accountName, password });
export const newPersonSchema = z.object({ name: accountName, role: roleSchema, password });
export const passwordChangeSchema = z.object({ current: password, password });
export const newTokenBodySchema = z.object({ name: accountName, role: roleSchema });
export const passwordBodySchema = z.object({ password });
export const disabledBodySchema = z.object({ disabled: z.boolean() });
export const roleBodySchema = z.object({ role: roleSchema });
export type Me = z.infer<typeof meSchema>;
export type Person = z.infer<typeof personSchema>;
export type Token = z.infer<typeof tokenSchema>;
