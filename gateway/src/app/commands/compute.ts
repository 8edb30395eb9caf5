import { z } from "zod";
import { compute, type Formula, formulaOf, formulas, unitOfField } from "../../water/index.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";

const help = `drumlin compute                                   lists the formulas
drumlin compute FORMULA --help                    its inputs, units, ranges and source
drumlin compute FORMULA NAME=VALUE … [--json]     runs it

A value is a number in the input's own unit, or has its unit with it: temperature="64 F". Lists have commas and a
space after each: volume="10, 20, 30". Anything else (rows, objects) is given as JSON: ions='{"calcium": 40}'.
Exit: 0 computed, 1 refused (the message says which input and its range), 2 usage.`;

function fieldText(name: string, field: z.ZodType): string {
  const schema = z.toJSONSchema(field, { io: "input" }) as {
    minimum?: number;
    maximum?: number;
    enum?: string[];
    description?: string;
    default?: unknown;
    type?: string;
  };
  const range = schema.minimum === undefined ? "" : ` ${schema.minimum} to ${schema.maximum}`;
  const words = schema.enum ? ` ${schema.enum.join(" | ")}` : "";
  const plain = schema.default === undefined ? "" : ` (else ${JSON.stringify(schema.default)})`;
  const unit = unitOfField(field);
  return `  ${name.padEnd(24)}${[unit === null || unit === "1" ? "" : unit, range, words, plain].join("")}  ${schema.description ?? ""}`;
}

function formulaText(formula: Formula): string {
  const fields = (schema: z.ZodObject) =>
    Object.entries(schema.shape).map(([name, field]) => fieldText(name, field as z.ZodType));
  return [
    `drumlin compute ${formula.id}`,
    formula.title,
    formula.holds,
    `Source: ${formula.source}`,
    "",
    "Inputs",
    ...fields(formula.inputs),
    "Gives",
    ...fields(formula.outputs),
  ].join("\n");
}

function inputOf(text: string): unknown {
  if (/^\s*[[{"]/.test(text) || /^(true|false)$/.test(text)) {
    try {
      return JSON.parse(text);
    } catch {
      throw new UsageError(`${text.slice(0, 60)} begins like JSON and is none.`);
    }
  }
  if (/,\s/.test(text)) return text.split(/,\s+/);
  return text;
}

function valueText(value: unknown, unit: string | undefined): string {
  const text =
    typeof value === "number"
      ? String(Number(value.toPrecision(7)))
      : typeof value === "string"
        ? value
        : JSON.stringify(value);
  return unit === undefined || unit === "1" ? text : `${text} ${unit}`;
}

export const computeCommand: Command = {
  name: "compute",
  summary: "runs one formula of the water chemistry, or lists them",
  help,
  helpOf(args) {
    const formula = formulaOf(args.find((arg) => !arg.startsWith("-")) ?? "");
    return formula && formulaText(formula);
  },
  async run(args) {
    const options = readOptions(args, { json: "flag" });
    const [id, ...pairs] = options.rest;
    if (id === undefined) {
      const width = Math.max(...formulas.map((formula) => formula.id.length));
      for (const formula of formulas) console.log(`${formula.id.padEnd(width)}  ${formula.title}`);
      return 0;
    }
    if (!formulaOf(id)) throw new UsageError(`there is no formula "${id}"; "drumlin compute" lists them.`);
    const given = pairs.map((pair) => {
      const at = pair.indexOf("=");
      if (at < 1) throw new UsageError(`"${pair}" is not NAME=VALUE.`);
      return [pair.slice(0, at), inputOf(pair.slice(at + 1))] as const;
    });
    const computed = compute(id, Object.fromEntries(given));
    if (options.flag("json")) console.log(JSON.stringify(computed));
    else if (computed.ok)
      for (const [name, value] of Object.entries(computed.values))
        console.log(`${name}: ${valueText(value, computed.units[name])}`);
    else console.error(`${computed.code}: ${computed.message}`);
    return computed.ok ? 0 : 1;
  },
};
