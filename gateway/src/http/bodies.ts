import { periodRangeS } from "@drumlin/firmware-protocol";
import { z } from "zod";

/** What callers send, and the answers of calls that no page shows as a whole. */

export const computeBodySchema = z.record(z.string().max(60), z.unknown()).meta({
  id: "ComputeBody",
  description: 'Inputs by name: numbers in the stated units, or texts with a unit ("5 uS/cm")',
});

/** What a formula gave: `POST /api/compute/{formula}`. */
export const computedSchema = z
  .object({
    formula: z.string(),
    values: z.record(z.string(), z.unknown()),
    units: z.record(z.string(), z.string()).meta({ description: "UCUM, of each number" }),
  })
  .meta({ id: "Computed" });

/** Every formula of the chemistry, with its source and an example that runs: `GET /api/compute`. */
export const formulaListSchema = z.object({
  items: z.array(
    z
      .object({
        id: z.string(),
        title: z.string(),
        source: z.string(),
        holds: z.string(),
        words: z.array(z.string()).meta({ description: "words of the trade that lead to it: TDS, EBCT …" }),
        example: z.record(z.string(), z.unknown()).meta({ description: "inputs that run" }),
        inputs: z.unknown().meta({ description: "JSON Schema; unit beside each number" }),
        outputs: z.unknown().meta({ description: "JSON Schema; unit beside each number" }),
      })
      .meta({ id: "Formula" }),
  ),
  next: z.null(),
});

/** What was entered so far of one kind of act, newest first. */
export const enteredListSchema = z.object({
  items: z.array(z.record(z.string(), z.unknown())),
  next: z.string().nullable(),
});

const faultSchema = z
  .object({
    code: z.string(),
    severity: z.enum(["error", "warning"]),
    line: z.number(),
    column: z.number(),
    path: z.string(),
    message: z.string(),
    instead: z.string(),
  })
  .meta({ id: "LineFault" });

/** A line file that is only looked at: `POST /api/line/check`. */
export const lineTextSchema = z.object({ yaml: z.string().max(60_000) }).meta({ id: "LineText" });

/**
 * A line file that is to be in force: `PUT /api/line/file`. Another version than the present one is refused (409).
 */
export const lineFileSaveSchema = z
  .object({ yaml: z.string().max(60_000), version: z.string().max(64) })
  .meta({
    id: "LineFileSave",
    description: "version: of the text that was changed, from GET /api/line/file",
  });

/** One limit of one condition at one subject, in the condition's unit; written into the line file. */
export const limitSetSchema = z
  .object({
    condition: z.string().max(63),
    subject: z.string().max(127),
    limit: z.number().positive(),
    version: z.string().max(64),
  })
  .meta({ id: "LimitSet" });

/** The line file with its version and what is wrong with it: `GET /api/line/file`. */
export const lineFileSchema = z.object({
  yaml: z.string(),
  version: z.string(),
  faults: z.array(faultSchema),
});
/** Whether a line file could be used; a warning alone does not keep it from being so. */
export const lineCheckedSchema = z.object({ ok: z.boolean(), faults: z.array(faultSchema) });
/** What was saved, and what is odd about it. */
export const lineSavedSchema = z.object({ version: z.string(), faults: z.array(faultSchema) });

const editedValue = z.union([z.string().max(200), z.number(), z.boolean()]);

/** Changes of single places of the line file, all or none: comments and everything else stay. */
export const lineEditSchema = z
  .object({
    version: z.string().max(64),
    edits: z
      .array(
        z.object({
          at: z.array(z.string().min(1).max(127)).min(1).max(6),
          to: z.union([editedValue, z.record(z.string().max(63), editedValue), z.null()]),
        }),
      )
      .min(1)
      .max(40),
  })
  .meta({
    id: "LineEdit",
    description: "at: keys down to the place, such as drums, mix, title; to: null takes away",
  });

/** The past is derived anew. */
export const deriveSchema = z
  .object({
    from: z.iso.datetime({ offset: true }).meta({ description: "from then on all is derived anew" }),
  })
  .meta({ id: "Derive" });

/** A channel gets its place in the line file; what it said before is derived. */
export const assignSchema = z
  .object({
    channel: z.string().max(200),
    to: z.string().max(200),
    instead: z.string().max(200).optional().meta({ description: "the channel there now that it replaces" }),
    strapping: z
      .record(z.string().max(63), z.string().max(63))
      .optional()
      .meta({ description: "for a drum's level: heights with their litres, as the line file has them" }),
  })
  .meta({
    id: "Assign",
    description: 'to: a place of the line file, for example "points/supply/conductivity"',
  });

/** What a node is asked. */
export const nodeRequestSchema = z
  .discriminatedUnion("kind", [
    z.object({ kind: z.enum(["report-now", "identify"]) }),
    z.object({
      kind: z.literal("set-period"),
      periodS: z
        .number()
        .min(periodRangeS.min)
        .max(periodRangeS.max)
        .meta({ description: "seconds between two packs, until the node's next start" }),
    }),
  ])
  .meta({
    id: "NodeRequest",
    description: "only what the node says in its presence that it understands: requests in GET /api/nodes",
  });

/** The node has done it. */
export const nodeAskedSchema = z.object({ node: z.string(), kind: z.string(), outcome: z.literal("done") });

/** Records of one kind, newest first; each in the form that its kind of record says. */
export const recordListSchema = z.object({ items: z.array(z.unknown()), next: z.string().nullable() });
