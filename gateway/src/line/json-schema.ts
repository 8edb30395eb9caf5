import { z } from "zod";
import { type LimitRules, usualRules } from "./limits.ts";
import { lineFileSchema } from "./schema.ts";

/** JSON Schema of the line file, for editors; under `limits` each condition with its settings, for all or one subject. */
export function lineJsonSchema(limits: LimitRules = usualRules): unknown {
  const schema = z.toJSONSchema(lineFileSchema, { io: "input" });
  const settings = [...limits].map(([condition, rule]) => {
    const { $schema: _, ...shape } = z.toJSONSchema(rule.settings, { io: "input" });
    return [`^${condition}(:.+)?$`, shape] as const;
  });
  const byCondition = {
    type: "object",
    patternProperties: Object.fromEntries(settings),
    additionalProperties: false,
  };
  return { ...schema, properties: { ...schema.properties, limits: byCondition } };
}
