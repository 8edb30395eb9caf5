import { type AskedKind, askedKinds } from "@drumlin/firmware-protocol";
import { z } from "zod";
import { quantitySchema } from "./quantity.ts";
import { time } from "./words.ts";

/** A node as it was last heard; counts since the gateway knows it. */
export const nodeSchema = z
  .object({
    id: z.string(),
    online: z.boolean().nullable(),
    firmware: z.string().nullable(),
    requests: z
      .array(z.enum(askedKinds as [AskedKind, ...AskedKind[]]))
      .meta({ description: "what it says that it may be asked: POST /api/nodes/{id}/request" }),
    periodS: z.number().nullable().meta({ description: "how often it says that it sends, s" }),
    lastSeen: time.nullable(),
    startedAt: time.nullable().meta({ description: "by its own count, brought onto the gateway's clock" }),
    packs: z.number(),
    gaps: z.number(),
    repeats: z.number(),
    rejected: z.number(),
    channels: z
      .array(
        z.object({
          channel: z.string(),
          of: z
            .object({ kind: z.string(), id: z.string() })
            .meta({ description: "what it tells of: point, flow, drum, float, inlet, waste, pump, floor …" }),
          quantity: z.string().meta({ description: "what is shown of it: of a drum's level the litres" }),
          now: quantitySchema,
        }),
      )
      .meta({ description: "those that the line file names, with what was measured by them last" }),
    unassigned: z.array(
      z.object({ channel: z.string(), value: z.number(), unit: z.string().nullable(), at: time }),
    ),
  })
  .meta({ id: "Node" });

/** Nodes, each as it was last heard. */
export const nodeListSchema = z.object({ items: z.array(nodeSchema), next: z.string().nullable() });

/** A node as it was last heard. */
export type NodeView = z.infer<typeof nodeSchema>;
