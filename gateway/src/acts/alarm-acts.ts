import { z } from "zod";
import type { ActBase } from "./act-base.ts";
import { type ActKind, defineAct, type Given } from "./define-act.ts";

/** An act on one occurrence of an alarm; another occurrence than the standing one is refused (409). */
interface AlarmActBase extends ActBase {
  readonly key: string;
  readonly occurrence: string;
}

/** A person has seen an occurrence: its calls and its sounder end, the alarm stands on. */
export interface Acknowledge extends AlarmActBase {
  readonly type: "acknowledge";
}
/** A person takes back within 10 min that an occurrence was seen: it is new again, and calls. */
export interface Unacknowledge extends AlarmActBase {
  readonly type: "unacknowledge";
}
/** An alarm is silent until a time, or until what was silenced is reset. */
export interface Shelve extends AlarmActBase {
  readonly type: "shelve";
  readonly untilMs: number;
  readonly oneShot?: boolean;
}
/** The silence of a shelved occurrence ends before its time. */
export interface Unshelve extends AlarmActBase {
  readonly type: "unshelve";
}
/** A latched occurrence that is over, or one whose cause a person has set right, goes back to rest. */
export interface Reset extends AlarmActBase {
  readonly type: "reset";
  /** Of `drum-not-stopping`: what was the matter with the stop float. A moved one is learned anew, a failed one unproved. */
  readonly float?: "moved" | "failed" | "unknown";
}
/** An alarm is taken out of service until a time, or until somebody puts it back; it is judged on and told to nobody. */
export interface OutOfService extends AlarmActBase {
  readonly type: "out-of-service";
  readonly untilMs?: number;
}
/** An alarm that was out of service calls again. */
export interface InService extends AlarmActBase {
  readonly type: "in-service";
}
/** Acts on one occurrence of an alarm: ISA-18.2, operator actions. */
export type AlarmAct = Acknowledge | Unacknowledge | Shelve | Unshelve | Reset | OutOfService | InService;

const note = z.string().max(500).optional();
const occurrence = z.string().max(256);
const dayMs = 86_400_000;
/** Minutes, at most a day. */
const minutes = z.number().min(1).max(1440);

interface AlarmBody {
  readonly occurrence: string;
  readonly note?: string | undefined;
}

const common = (key: string | undefined, body: AlarmBody) => ({
  key: key ?? "",
  occurrence: body.occurrence,
  ...(body.note ? { note: body.note } : {}),
});

/** The engine of alarms says whether the alarm stands: nothing is asked of the line. */
function onAlarm<Act extends Exclude<AlarmAct, Shelve | Reset | OutOfService>>(
  type: Act["type"],
): ActKind<Act, AlarmBody> {
  return defineAct<Act, AlarmBody>({
    types: [type],
    path: `/api/alarms/{key}/${type}`,
    role: "operator",
    summary: `Act on one occurrence: ${type}`,
    answer: "alarms",
    schema: z.object({ occurrence, note }),
    given: ({ body, params }) => ({ type, ...common(params.key, body) }) as Given<Act>,
    stored: { key: z.string(), occurrence: z.string() },
    subject: ({ key }) => key,
  });
}

/** `POST /api/alarms/{key}/acknowledge`; refused where another occurrence stands, or none. */
export const acknowledge = onAlarm<Acknowledge>("acknowledge");
/** `POST /api/alarms/{key}/unacknowledge`; refused after 10 min, and where nobody has seen it. */
export const unacknowledge = onAlarm<Unacknowledge>("unacknowledge");
/** `POST /api/alarms/{key}/unshelve`; refused where it is not shelved. */
export const unshelve = onAlarm<Unshelve>("unshelve");

const float = z
  .enum(["moved", "failed", "unknown"])
  .optional()
  .meta({ description: "after `drum-not-stopping`: what was the matter with the stop float" });

/** `POST /api/alarms/{key}/reset`; refused while the condition itself still holds, where it latches. */
export const reset = defineAct<Reset, AlarmBody & { float?: Reset["float"] }>({
  types: ["reset"],
  path: "/api/alarms/{key}/reset",
  role: "operator",
  summary: "Act on one occurrence: reset",
  answer: "alarms",
  schema: z.object({ occurrence, note, float }),
  given: ({ body, params }) => ({
    type: "reset",
    ...common(params.key, body),
    ...(body.float ? { float: body.float } : {}),
  }),
  stored: { key: z.string(), occurrence: z.string(), float },
  subject: ({ key }) => key,
});
/** `POST /api/alarms/{key}/out-of-service`, for 1 to 366 days; left out: until somebody puts it back, whatever happens. */
export const outOfService = defineAct<OutOfService, AlarmBody & { days?: number | undefined }>({
  types: ["out-of-service"],
  path: "/api/alarms/{key}/out-of-service",
  role: "operator",
  summary: "Act on one occurrence: out-of-service",
  answer: "alarms",
  schema: z.object({
    occurrence,
    note,
    days: z.number().min(1).max(366).optional().meta({ description: "for how long; left out: without end" }),
  }),
  given: ({ body, params, nowMs }) => ({
    type: "out-of-service",
    ...common(params.key, body),
    ...(body.days === undefined ? {} : { untilMs: nowMs + body.days * dayMs }),
  }),
  stored: { key: z.string(), occurrence: z.string(), untilMs: z.number().optional() },
  subject: ({ key }) => key,
});
/** `POST /api/alarms/{key}/in-service`; refused where it is in service. */
export const inService = onAlarm<InService>("in-service");

/** `POST /api/alarms/{key}/shelve`, for 1 to 1,440 min; `oneShot`: this occurrence only, a new one calls. */
export const shelve = defineAct<Shelve, AlarmBody & { minutes: number; oneShot?: boolean | undefined }>({
  types: ["shelve"],
  path: "/api/alarms/{key}/shelve",
  role: "operator",
  summary: "Act on one occurrence: shelve",
  answer: "alarms",
  schema: z.object({
    occurrence,
    note,
    minutes: minutes.meta({ description: "for how long" }),
    oneShot: z.boolean().optional(),
  }),
  given: ({ body, params, nowMs }) => ({
    type: "shelve",
    ...common(params.key, body),
    untilMs: nowMs + body.minutes * 60_000,
    oneShot: body.oneShot === true,
  }),
  stored: {
    key: z.string(),
    occurrence: z.string(),
    untilMs: z.number(),
    oneShot: z.boolean().optional(),
  },
  subject: ({ key }) => key,
});
