import { z } from "zod";
import { type Formula, tradeWordsFor } from "../water/index.ts";

/** A formula as the API tells it: inputs and outputs as JSON Schema, each number with its unit. */
export function formulaView(formula: Formula) {
  const { id, title, source, holds, example } = formula;
  return {
    id,
    title,
    source,
    holds,
    words: tradeWordsFor(id).map(({ word }) => word),
    example,
    inputs: z.toJSONSchema(formula.inputs, { target: "draft-2020-12", io: "input" }),
    outputs: z.toJSONSchema(formula.outputs, { target: "draft-2020-12", io: "output" }),
  };
}
