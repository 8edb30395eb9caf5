import { z } from "zod";
import { fillSchema, runSchema } from "./fills.ts";
import { nodeSchema } from "./node.ts";
import { proofSchema, runningProofSchema } from "./proofs.ts";
import { quantitySchema } from "./quantity.ts";
import { flag, notJudged, said, time } from "./words.ts";

/**
 * A point of the line now. `conductivity` is κ at the water's temperature, `conductivity25` is κ25 and what limits
 * are held against.
 */
export const pointSchema = z
  .object({
    id: z.string(),
    title: z.string(),
    conductivity25: quantitySchema,
    conductivity: quantitySchema,
    solids: quantitySchema,
    temperature: quantitySchema,
    salinity: quantitySchema.optional(),
    limit: z.number().nullable().meta({ description: "uS/cm at 25 °C" }),
    judged: z.object({ now: z.boolean(), because: notJudged.nullable() }),
    run: runSchema,
    hasProbe: z.boolean(),
    quantities: z
      .array(z.string())
      .meta({ description: "what was measured here since the start: for the series" }),
    probe: z
      .object({
        channel: z.string(),
        said: z.number().nullable().meta({ description: "as the node said it, before calibration, uS/cm" }),
      })
      .nullable(),
  })
  .meta({ id: "Point" });

/** What water goes through between two points. */
export const stageSchema = z
  .object({
    id: z.string(),
    title: z.string(),
    kind: z.string(),
    from: z.string(),
    to: z.string(),
    removal: z.number().nullable().meta({ description: "share taken out, 0 to 1, on κ25" }),
    cameBack: time
      .optional()
      .meta({ description: "on hold: since when water from a drum is known to have come back into it" }),
  })
  .meta({ id: "Stage" });

/** A batch of salt water, or what a drum for salt holds instead. */
export const batchSchema = z
  .object({
    id: z.string().meta({ description: "of this batch: {drum}@{begin}" }),
    state: z
      .enum(["unknown", "empty", "filling", "fresh", "salted", "mixing", "ready", "in-use", "heel"])
      .meta({ description: "from salted to heel there is salt in it, and nothing may flow in" }),
    since: time,
    salt: z.array(
      z.object({
        at: time,
        by: z.string().nullable().meta({ description: "null: nobody entered it, the drum's probe saw it" }),
        kg: z.number().nullable(),
        lot: z.string().nullable(),
      }),
    ),
    salinity: z.number().nullable().meta({ description: "practical salinity, last known" }),
    salinityBy: z.enum(["probe", "hand"]).nullable(),
    target: z.number().nullable().meta({ description: "practical salinity" }),
    waits: z.array(z.string()).meta({ description: "what still keeps it from being ready" }),
    cameIn: z.number().meta({ description: "L of fresh water that ran in after it was salted" }),
  })
  .meta({ id: "Batch" });

/** A drum now: its one word with reasons, what is in it, its floats, what guards it and what can't be known. */
export const drumSchema = z
  .object({
    id: z.string(),
    title: z.string(),
    fedBy: z.string(),
    holds: z.enum(["fresh", "salt"]),
    control: z.enum(["automatic", "manual"]),
    capacity: z.number().meta({ description: "L" }),
    volume: quantitySchema,
    filling: z.boolean().nullable(),
    flow: z.number().nullable().meta({ description: "L/min" }),
    timeToTrip: z.number().nullable().meta({ description: "s" }),
    timeToOverflow: z.number().nullable().meta({ description: "s" }),
    water: z.object({
      verdict: z.enum(["use", "hold", "unknown"]),
      since: time.nullable(),
      reasons: z.array(z.string()),
      because: z.array(said).optional().meta({ description: "the reasons that have a code, where one has" }),
      blend25: z
        .number()
        .nullable()
        .meta({ description: "of what is in it as far as it was watched, uS/cm" }),
      unwatched: z.number().nullable().meta({ description: "share that nobody watched, 0 to 1" }),
      band25: z
        .number()
        .nullable()
        .optional()
        .meta({ description: "what it may read at most, uS/cm at 25 °C; null: nothing says" }),
      notReady: z.boolean().optional().meta({
        description: "on hold only because its salt water is not ready: the batch ends that, no release",
      }),
      unseen: z
        .string()
        .nullable()
        .optional()
        .meta({ description: "what conductivity can't see of it: chlorine, and its last test" }),
      release: z
        .object({
          by: z.string(),
          how: z.enum(["hand-test", "dumped", "diluted", "other"]),
          at: time,
          note: z.string().nullable(),
          value25: z.number().nullable().meta({ description: "what the hand test found, uS/cm at 25 °C" }),
          over25: z
            .number()
            .optional()
            .meta({ description: "the drum's limit then, where that lay over it, uS/cm at 25 °C" }),
        })
        .nullable()
        .meta({ description: "who answered for it last; it can be taken back for 10 min" }),
    }),
    batch: batchSchema.nullable().meta({ description: "null: no salt is mixed in it" }),
    fill: fillSchema.nullable().meta({ description: "the running fill" }),
    saidFilling: time.nullable().optional().meta({
      description:
        "since when somebody says that they fill it, and no water was seen yet: a stop takes it back",
    }),
    expectedEnd: time.nullable().meta({ description: "of the running fill, from what was learned" }),
    floats: z.array(
      z.object({
        id: z.string(),
        role: z.enum(["stop", "start", "overflow", "low"]),
        state: z.enum(["wet", "dry", "unknown"]),
        changedAt: time.nullable(),
        test: runningProofSchema.nullable().meta({ description: "the test that runs" }),
        lastTest: proofSchema.nullable(),
        lastProvenAt: time.nullable().meta({ description: "when it was last seen to work" }),
        provenBy: z
          .enum(["lifted", "bucket", "water", "fill"])
          .nullable()
          .meta({ description: "a guided test, or a good fill that it ended" }),
        dueAt: time.nullable().meta({ description: "by when it wants to be tested" }),
        trip: z.number().nullable().meta({ description: "litres at its last trips, median" }),
        tripsAt: z.number().nullable().meta({ description: "L in the drum, learned or written down" }),
      }),
    ),
    quantities: z
      .array(z.string())
      .meta({ description: "what was measured here since the start: for the series" }),
    guard: z
      .object({
        by: z.array(z.string()),
        unseen: z.array(z.string()),
        next: z.string().nullable().meta({ description: "what to buy next; null: nothing is missing" }),
      })
      .optional()
      .meta({ description: "what guards it besides its stop float and what could pass unseen, in figures" }),
    missing: z.array(z.string()).meta({ description: "what can't be known here, and what would tell" }),
  })
  .meta({ id: "Drum" });

/** The whole line now: `GET /api/line`, and the first event of the stream. */
export const lineSchema = z
  .object({
    site: z.string(),
    title: z.string(),
    timezone: z.string().meta({ description: "IANA name: the house's own time" }),
    simulated: z.boolean(),
    now: time,
    solids: z
      .number()
      .nullable()
      .meta({ description: "mg/L for each uS/cm at 25 °C, on the site's scale; null: by the table of NaCl" }),
    chlorine: z
      .object({
        failsFrom: z.number().meta({ description: "mg/L as Cl2 at or over which a test fails" }),
        freeTells: z.boolean().meta({ description: "a test of free chlorine can pass here" }),
      })
      .optional()
      .meta({ description: "what a test of chlorine by hand needs to decide something" }),
    points: z.array(pointSchema),
    stages: z.array(stageSchema),
    drums: z.array(drumSchema),
    nodes: z.array(nodeSchema),
    waitsFor: z
      .array(z.object({ node: z.string(), channels: z.array(z.string()) }))
      .meta({ description: "nodes that the line file names and that were never heard" }),
    work: z
      .array(
        z.object({
          kind: z.enum(["stage", "drum", "floor"]),
          id: z.string(),
          by: z.string(),
          since: time,
          until: time,
          forgotten: z.boolean().meta({ description: "its time is up, and nobody said that it is done" }),
        }),
      )
      .meta({ description: "what somebody works on: what that can cause is silent" }),
  })
  .meta({ id: "Line" });

/** What was refused under one code, with up to a few examples and what to do about it. */
export const rejectionSchema = z
  .object({
    code: z.string(),
    title: z.string(),
    todo: z.string(),
    node: z.string().nullable(),
    count: z.number(),
    lastAt: time,
    examples: z.array(z.object({ at: time, topic: z.string(), detail: z.string(), example: z.string() })),
  })
  .meta({ id: "Rejection" });

/** What was refused, by code and node. */
export const rejectionListSchema = z.object({ items: z.array(rejectionSchema), next: z.string().nullable() });
/**
 * A series in buckets of one length over [from, to): `t` in epoch ms, aligned; an empty bucket has count 0 and flag
 * 9. `flag` is the worst of a bucket, from low to high 9, 2, 1, 3, 4.
 */
export const bucketsSchema = z
  .object({
    unit: z.string(),
    bucketMs: z.number(),
    t: z.array(z.number()),
    min: z.array(z.number().nullable()),
    mean: z.array(z.number().nullable()),
    max: z.array(z.number().nullable()),
    count: z.array(z.number()),
    flag: z.array(flag),
  })
  .meta({ id: "Buckets" });

/** A point of the line now. */
export type PointView = z.infer<typeof pointSchema>;
/** What water goes through between two points. */
export type StageView = z.infer<typeof stageSchema>;
/** A drum now. */
export type DrumView = z.infer<typeof drumSchema>;
/** The whole line now. */
export type LineView = z.infer<typeof lineSchema>;
/** A series in buckets. */
export type Buckets = z.infer<typeof bucketsSchema>;
/** What was refused under one code. */
export type RejectionView = z.infer<typeof rejectionSchema>;
