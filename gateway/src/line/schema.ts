import { z } from "zod";
import { expectsSchema, notifySchema } from "./notify-schema.ts";
import type { Signal } from "./signals.ts";
import type { SubjectKind } from "./subject.ts";

const name = z
  .string()
  .regex(/^[a-z0-9][a-z0-9-]{0,62}$/, "write a name of small letters, digits and hyphens, 63 at most");
const channelName = z
  .string()
  .regex(
    /^[a-z0-9][a-z0-9-]{0,62}\/[A-Za-z0-9][A-Za-z0-9:._-]{0,127}$/,
    'write a channel as "node/channel", for example press/ec-1',
  );
const quantityText = z.union([z.string(), z.number()]);

const channelSettings = {
  scale: z.number().positive().optional(),
  resolution: quantityText.optional(),
  range: z.strictObject({ min: z.number(), max: z.number() }).optional(),
};
const channel = z.union([channelName, z.strictObject({ channel: channelName, ...channelSettings })]);
const solidsScale = z.union([z.number().min(0.3).max(1), z.literal("nacl")]);
const conductivityChannel = z.union([
  channelName,
  z.strictObject({
    channel: channelName,
    at25: z.boolean().optional(),
    compensation: z.enum(["none", "linear", "natural", "pure"]).optional(),
    alpha: z.number().min(0).max(0.1).optional(),
    solids: solidsScale.optional(),
    ...channelSettings,
  }),
]);
/** A meter's channel. */
const flowChannel = z.union([
  channelName,
  z.strictObject({
    channel: channelName,
    min_flow: quantityText.optional(),
    taps: z.boolean().optional(),
    ...channelSettings,
  }),
]);
const contactChannel = z.union([
  channelName,
  z.strictObject({ channel: channelName, wet: z.boolean().optional() }),
]);
const floatChannel = z.union([
  channelName,
  z.strictObject({
    channel: channelName,
    wet: z.boolean().optional(),
    supervised: z.boolean().optional(),
    trips_at: quantityText.optional(),
    releases_at: quantityText.optional(),
  }),
]);

/** A channel that a point or drum may name: what it says, and what that is told of. */
interface ChannelKey {
  readonly signal: Signal;
  readonly subject: Exclude<SubjectKind, "float">;
}

/** Channels that a point may name, by their key in the file. */
export const pointChannels = {
  conductivity: { signal: "conductivity", subject: "point" },
  temperature: { signal: "temperature", subject: "point" },
  pressure: { signal: "pressure", subject: "point" },
  level: { signal: "level", subject: "point" },
  flow: { signal: "flow", subject: "flow" },
} as const satisfies Readonly<Record<string, ChannelKey>>;

/** Channels that a drum may name by their key alone; its level, inlet and floats say more. */
export const drumChannels = {
  flow: { signal: "flow", subject: "drum" },
  conductivity: { signal: "conductivity", subject: "drum" },
  temperature: { signal: "temperature", subject: "drum" },
} as const satisfies Readonly<Record<string, ChannelKey>>;

/** A key of a point that names a channel. */
export type PointChannel = keyof typeof pointChannels;
/** A key of a drum that names a channel. */
export type DrumChannel = keyof typeof drumChannels;

/** The settings of conductivity are allowed where a channel of conductivity is. */
type ChannelShape<Keys extends Readonly<Record<string, ChannelKey>>> = {
  [Key in keyof Keys]: z.ZodOptional<
    Keys[Key]["signal"] extends "conductivity"
      ? typeof conductivityChannel
      : Keys[Key]["signal"] extends "flow"
        ? typeof flowChannel
        : typeof channel
  >;
};

function shapeOf<const Keys extends Readonly<Record<string, ChannelKey>>>(keys: Keys): ChannelShape<Keys> {
  return Object.fromEntries(
    Object.entries(keys).map(([key, { signal }]) => [
      key,
      (signal === "conductivity"
        ? conductivityChannel
        : signal === "flow"
          ? flowChannel
          : channel
      ).optional(),
    ]),
  ) as ChannelShape<Keys>;
}

const point = z.strictObject({
  title: z.string().max(80).optional(),
  ...shapeOf(pointChannels),
  limit: quantityText.optional(),
});

const stage = z.strictObject({
  title: z.string().max(80).optional(),
  kind: z.enum(["sediment", "carbon", "membrane", "resin", "other"]),
  from: name,
  to: name,
  flow: flowChannel.optional(),
  vessel: quantityText.optional(),
  vessels: z.number().int().min(1).max(20).optional(),
  arrangement: z.enum(["series", "parallel"]).optional(),
  media: quantityText.optional(),
  pipe: quantityText.optional(),
  waste: channel.optional(),
});

const drum = z.strictObject({
  title: z.string().max(80).optional(),
  volume: quantityText,
  fed_by: name,
  control: z.enum(["automatic", "manual"]).default("automatic"),
  feeds: z.enum(["by-hand", "automatic"]).default("by-hand"),
  holds: z.enum(["fresh", "salt"]).default("fresh"),
  stop: floatChannel.optional(),
  floats: z
    .strictObject({
      stop: floatChannel.optional(),
      start: floatChannel.optional(),
      overflow: floatChannel.optional(),
      low: floatChannel.optional(),
    })
    .optional(),
  level: z
    .strictObject({
      channel: channelName,
      as: z.enum(["depth", "distance", "pressure", "volume"]).default("depth"),
      strapping: z.record(z.string(), quantityText).optional(),
    })
    .optional(),
  inlet: z.strictObject({ channel: channelName, open: z.boolean().default(true) }).optional(),
  ...shapeOf(drumChannels),
  greatest_flow: quantityText.optional(),
  target: z
    .strictObject({
      conductivity: quantityText.optional(),
      salinity: z.number().min(0).max(42).optional(),
      temperature: quantityText.optional(),
    })
    .optional(),
});

/** A line is walked from each of its points: a file of thousands would keep the gateway busy with reading it. */
const maxThings = 300;

/** Things of one kind by their names, 300 at most. */
const things = <Thing extends z.ZodType>(thing: Thing) =>
  z
    .record(name, thing)
    .refine(
      (all) => Object.keys(all).length <= maxThings,
      `more than ${maxThings} are too many for one line`,
    );

const clock = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'write a time of day such as "21:00"');

/** The line file as it is written. Its meaning and defaults are in `build/`. */
export const lineFileSchema = z.strictObject({
  drumlin: z.literal(1),
  site: name,
  title: z.string().max(80).optional(),
  timezone: z.string().optional(),
  night: z.strictObject({ from: clock, to: clock }).optional(),
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/, "write a currency of three capitals, for example EUR")
    .optional(),
  solids: solidsScale.optional(),
  supply: z
    .strictObject({ disinfectant: z.enum(["unknown", "chlorine", "chloramine", "none"]).default("unknown") })
    .optional(),
  points: things(point),
  stages: things(stage).default({}),
  drums: things(drum).default({}),
  pumps: things(z.strictObject({ channel: channelName, runs: z.boolean().default(true) })).default({}),
  floors: things(contactChannel).default({}),
  rooms: things(z.strictObject({ title: z.string().max(80).optional(), temperature: channel })).default({}),
  flows: things(flowChannel).default({}),
  sounders: things(z.strictObject({ channel: channelName })).default({}),
  buttons: things(
    z.strictObject({
      channel: channelName,
      pressed: z.boolean().default(true),
      work: z
        .strictObject({
          stage: name.optional(),
          drum: name.optional(),
          minutes: z.number().int().min(1).max(480).default(60),
        })
        .refine(({ stage, drum }) => (stage === undefined) !== (drum === undefined), "name a stage or a drum")
        .optional(),
    }),
  ).default({}),
  systems: things(
    z.strictObject({
      title: z.string().max(80).optional(),
      volume: quantityText.optional(),
      tanks: z.array(name).max(200).default([]),
    }),
  ).default({}),
  foreign: z
    .array(
      z.strictObject({
        topic: z
          .string()
          .min(1)
          .max(200)
          .regex(/^(?!drumlin\/|\$)[^#+\0]+$/, "write a topic of its own, without + and #"),
        channel: channelName,
        pointer: z
          .string()
          .max(200)
          .regex(/^(\/[^/]*)+$/, 'write a JSON pointer, for example "/sensor/ec"')
          .optional(),
        unit: z.string().max(40).optional(),
        scale: z.number().optional(),
      }),
    )
    .max(500)
    .default([]),
  notify: notifySchema.optional(),
  expects: expectsSchema,
  limits: z
    .record(z.string(), z.record(z.string(), z.union([z.number(), z.string(), z.boolean()])))
    .default({}),
});

/** A line file of the right shape. */
export type LineFile = z.infer<typeof lineFileSchema>;
/** A drum as it stands in the file. */
export type DrumFile = LineFile["drums"][string];
/** A float as it stands in the file: its channel alone, or with its settings. */
export type FloatFile = z.infer<typeof floatChannel>;
/** A conductivity channel as it stands in the file. */
export type ConductivityFile = z.infer<typeof conductivityChannel>;
/** Any other channel as it stands in the file. */
export type ChannelFile = z.infer<typeof channel>;
/** A meter's channel as it stands in the file. */
export type FlowFile = z.infer<typeof flowChannel>;
