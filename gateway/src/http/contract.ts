import { z } from "zod";

/** The HTTP contract: every answer of the API. Pages take their types from here and nothing else. */

/** A time with its offset. */
export const time = z.iso.datetime({ offset: true });
const flag = z
  .union([z.literal(1), z.literal(2), z.literal(3), z.literal(4), z.literal(9)])
  .meta({ description: "QARTOD: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing" });

/** Why a value is flagged. Closed: what is sent is checked against it where the program is built, and so are the page's words. */
const flagReason = z.enum([
  "arrival-time",
  "over-range",
  "under-range",
  "open-circuit",
  "spike",
  "below-resolution",
  "unproven",
  "temperature-assumed",
  "temperature-borrowed",
  "temperature-lost",
  "outside-compensation-range",
  "at-pure-water-limit",
  "settling-after-boot",
  "unit-mismatch",
  "not-a-value",
  "old",
]);

/** Why a point or a condition is not judged now. */
const notJudged = z.enum([
  "no-flow",
  "settling",
  "no-valid-reading",
  "flow-unknown",
  "just-started",
  "never-heard",
  "no-limit",
  "by-time",
]);

const alarmState = z.enum([
  "normal",
  "unacknowledged",
  "acknowledged",
  "returned-unacknowledged",
  "latched-unacknowledged",
  "latched-acknowledged",
  "shelved",
  "suppressed-by-design",
  "out-of-service",
]);

/** What happened to an alarm. */
const alarmChangeWhy = z.enum([
  "raised",
  "raised-gross",
  "returned",
  "re-raised",
  "acknowledged",
  "reset",
  "shelved",
  "unshelved",
  "shelf-ended",
  "suppressed",
  "unsuppressed",
  "out-of-service",
  "in-service",
  "attention-raised",
  "medium-changed",
  "withdrawn",
  "judged",
  "not-judged",
]);

export const quantitySchema = z
  .object({
    value: z.number().nullable().meta({ description: "null when missing: then flag is 9" }),
    unit: z.string().meta({ description: "UCUM" }),
    flag,
    at: time.nullable(),
    reasons: z.array(flagReason),
    estimated: z.boolean().optional(),
    belowResolution: z.boolean().optional(),
  })
  .meta({ id: "Quantity" });

const runSchema = z.object({
  flowing: z.boolean().nullable().meta({ description: "null: not known" }),
  basis: z.enum(["flow-meter", "level", "inlet", "pump", "calling-float", "person", "none"]),
  since: time.nullable(),
  litres: z.number().nullable(),
  flow: z.number().nullable().meta({ description: "L/min" }),
  settled: z.boolean().nullable(),
});

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

export const stageSchema = z
  .object({
    id: z.string(),
    title: z.string(),
    kind: z.string(),
    from: z.string(),
    to: z.string(),
    removal: z.number().nullable().meta({ description: "share taken out, 0 to 1, on κ25" }),
  })
  .meta({ id: "Stage" });

export const fillSchema = z
  .object({
    id: z.string(),
    drum: z.string(),
    startedAt: time,
    endedAt: time.nullable().meta({ description: "null while it runs" }),
    pausedSince: time.nullable().meta({ description: "inflow stopped and may come back within 2 min" }),
    litres: z.number().nullable(),
    estimated: z.boolean(),
    basis: runSchema.shape.basis,
    mean25: z
      .number()
      .nullable()
      .meta({ description: "volume-weighted mean of what came in, uS/cm at 25 °C" }),
    peak25: z.number().nullable().meta({ description: "greatest after first water, uS/cm at 25 °C" }),
    firstWater25: z.number().nullable().meta({ description: "mean of first water, uS/cm at 25 °C" }),
    end: z.enum(["float-tripped", "inflow-stopped", "stopped-by-person", "not-stopping"]).nullable(),
    tripConfirmed: z.boolean().nullable(),
    trippedAt: time.nullable(),
    tripAt: z.number().nullable().meta({ description: "litres in the drum when the stop float tripped" }),
    watched: z.number().meta({ description: "share of what came in that a valid reading saw, 0 to 1" }),
    notStopping: z
      .enum([
        "past-trip-volume",
        "goes-on-after-trip",
        "longer-than-learned",
        "more-than-it-holds",
        "begins-with-wet-float",
        "at-the-brim",
      ])
      .nullable(),
    reasons: z.array(z.string()),
    revision: z.number().meta({ description: "0 as told live; more when derived again" }),
    withdrawn: z.literal(true).optional().meta({ description: "derived again, it no longer comes out" }),
  })
  .meta({ id: "Fill" });

export const fillListSchema = z.object({ items: z.array(fillSchema), next: z.string().nullable() });

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
      blend25: z
        .number()
        .nullable()
        .meta({ description: "of what is in it as far as it was watched, uS/cm" }),
      unwatched: z.number().nullable().meta({ description: "share that nobody watched, 0 to 1" }),
    }),
    fill: fillSchema.nullable().meta({ description: "the running fill" }),
    expectedEnd: time.nullable().meta({ description: "of the running fill, from what was learned" }),
    floats: z.array(
      z.object({
        role: z.enum(["stop", "start", "overflow", "low"]),
        state: z.enum(["wet", "dry", "unknown"]),
        changedAt: time.nullable(),
      }),
    ),
    quantities: z
      .array(z.string())
      .meta({ description: "what was measured here since the start: for the series" }),
    missing: z.array(z.string()).meta({ description: "what can't be known here, and what would tell" }),
  })
  .meta({ id: "Drum" });

export const nodeSchema = z
  .object({
    id: z.string(),
    online: z.boolean().nullable(),
    firmware: z.string().nullable(),
    lastSeen: time.nullable(),
    startedAt: time.nullable().meta({ description: "by its own count, brought onto the gateway's clock" }),
    packs: z.number(),
    gaps: z.number(),
    repeats: z.number(),
    rejected: z.number(),
    unassigned: z.array(
      z.object({ channel: z.string(), value: z.number(), unit: z.string().nullable(), at: time }),
    ),
  })
  .meta({ id: "Node" });

export const lineSchema = z
  .object({
    site: z.string(),
    title: z.string(),
    simulated: z.boolean(),
    now: time,
    points: z.array(pointSchema),
    stages: z.array(stageSchema),
    drums: z.array(drumSchema),
    nodes: z.array(nodeSchema),
  })
  .meta({ id: "Line" });

export const alarmSchema = z
  .object({
    key: z.string(),
    occurrence: z.string(),
    condition: z.string(),
    subject: z.string(),
    attention: z.enum(["wake", "tell", "today", "record"]),
    priority: z.enum(["critical", "high", "medium", "low"]),
    state: alarmState,
    /** Key of the alarm that brought it about and stands; null: it stands for itself. */
    under: z.string().nullable(),
    judged: z.object({ now: z.boolean(), because: notJudged.nullable(), since: time }),
    raisedAt: time.nullable(),
    clearedAt: time.nullable(),
    acknowledgedAt: time.nullable(),
    acknowledgedBy: z.string().nullable(),
    shelvedUntil: time.nullable(),
    value: z.number().nullable(),
    limit: z.number().nullable(),
    unit: z.string(),
    text: z.string(),
    response: z.string(),
  })
  .meta({ id: "Alarm" });

export const alarmChangeSchema = z
  .object({
    id: z.string(),
    at: time,
    from: alarmState,
    to: alarmState,
    why: alarmChangeWhy,
    by: z.string().nullable(),
    annunciated: z.boolean(),
    alarm: alarmSchema,
  })
  .meta({ id: "AlarmChange" });

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

export const problemSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.number(),
    code: z.string(),
    detail: z.string(),
    instance: z.string().optional().meta({ description: "of an error that stands in the gateway's log" }),
  })
  .meta({ id: "Problem", description: "RFC 9457" });

export const alarmListSchema = z.object({ items: z.array(alarmSchema), next: z.string().nullable() });
export const alarmJournalSchema = z.object({
  items: z.array(alarmChangeSchema),
  next: z.string().nullable(),
});
export const rejectionListSchema = z.object({ items: z.array(rejectionSchema), next: z.string().nullable() });
export const nodeListSchema = z.object({ items: z.array(nodeSchema), next: z.string().nullable() });

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
  .object({ name: z.string(), role: roleSchema, madeAt: time })
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
export const roleBodySchema = z.object({ role: roleSchema });

export type FlagReasonWord = z.infer<typeof flagReason>;
export type NotJudgedWord = z.infer<typeof notJudged>;
export type AlarmStateWord = z.infer<typeof alarmState>;
export type AlarmChangeWord = z.infer<typeof alarmChangeWhy>;
export type Me = z.infer<typeof meSchema>;
export type Quantity = z.infer<typeof quantitySchema>;
export type PointView = z.infer<typeof pointSchema>;
export type StageView = z.infer<typeof stageSchema>;
export type DrumView = z.infer<typeof drumSchema>;
export type FillView = z.infer<typeof fillSchema>;
export type NodeView = z.infer<typeof nodeSchema>;
export type LineView = z.infer<typeof lineSchema>;
export type AlarmView = z.infer<typeof alarmSchema>;
export type AlarmChangeView = z.infer<typeof alarmChangeSchema>;
export type Buckets = z.infer<typeof bucketsSchema>;
export type RejectionView = z.infer<typeof rejectionSchema>;
export type Problem = z.infer<typeof problemSchema>;

/** Events of the live stream, by their SSE event name. */
export type LiveEvent =
  | {
      readonly event: "snapshot";
      readonly data: { readonly line: LineView; readonly alarms: readonly AlarmView[] };
    }
  | { readonly event: "heartbeat"; readonly data: { readonly now: string } }
  | { readonly event: "line"; readonly data: LineView }
  | { readonly event: "point"; readonly data: PointView }
  | { readonly event: "drum"; readonly data: DrumView }
  | { readonly event: "fill"; readonly data: FillView }
  | { readonly event: "node"; readonly data: NodeView }
  | { readonly event: "alarm"; readonly data: AlarmChangeView };
