import { z } from "zod";
import {
  compute,
  type Formula,
  findFormulas,
  formulaOf,
  formulas,
  tradeWordOf,
  tradeWordsFor,
  unitOfField,
} from "../../water/index.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";

const help = `drumlin compute                                   lists the formulas
drumlin compute --find "WORDS"                    lists those that a word leads to: TDS, EBCT, "specific conductance"
drumlin compute FORMULA --help                    its inputs, units, ranges and source
drumlin compute FORMULA NAME=VALUE … [--json]     runs it

A value is a number in the input's own unit, or has its unit with it: temperature="64 F". Lists have commas and a
space after each: volume="10, 20, 30". Anything else (rows, objects) is given as JSON: ions='{"calcium": 40}'.
Exit: 0 computed, 1 refused (the message says which input and its range), 2 usage.`;

/** A unit as it is read: nothing for a plain number, PSU without UCUM's braces. */
function unitText(unit: string | null | undefined): string {
  return unit === null || unit === undefined || unit === "1" ? "" : unit.replace(/^\{(.*)\}$/, "$1");
}

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
  return `  ${name.padEnd(24)}${[unitText(unitOfField(field)), range, words, plain].join("")}  ${schema.description ?? ""}`;
}

function formulaText(formula: Formula): string {
  const fields = (schema: z.ZodObject) =>
    Object.entries(schema.shape).map(([name, field]) => fieldText(name, field as z.ZodType));
  const words = tradeWordsFor(formula.id).map(({ word, meaning }) => `${word} (${meaning})`);
  return [
    `drumlin compute ${formula.id}`,
    formula.title,
    ...(words.length > 0 ? [`Found by: ${words.join(", ")}`] : []),
    formula.holds,
    `Source: ${formula.source}`,
    "",
    "Inputs",
    ...fields(formula.inputs),
    "Gives",
    ...fields(formula.outputs),
  ].join("\n");
}

function listText(list: readonly Formula[]): string {
  const width = Math.max(...list.map((formula) => formula.id.length));
  return list.map((formula) => `${formula.id.padEnd(width)}  ${formula.title}`).join("\n");
}

/** What a word means and the formulas that it leads to; null where it leads to none. */
function foundText(words: string): string | null {
  const found = findFormulas(words);
  if (found.length === 0) return null;
  const known = tradeWordOf(words);
  return known ? `${known.word}: ${known.meaning}\n${listText(found)}` : listText(found);
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
  return `${text} ${unitText(unit)}`.trimEnd();
}

export const computeCommand: Command = {
  name: "compute",
  summary: "runs one formula of the water chemistry, or lists them",
  help,
  helpOf(args) {
    const asked = args.find((arg) => !arg.startsWith("-")) ?? "";
    const formula = formulaOf(asked);
    return formula ? formulaText(formula) : foundText(asked);
  },
  async run(args) {
    const options = readOptions(args, { json: "flag", find: "text" });
    const find = options.text("find");
    if (find !== undefined) {
      const found = foundText(find);
      if (found === null)
        console.error(`No formula is found by "${find}"; "drumlin compute" lists them all.`);
      else console.log(found);
      return found === null ? 1 : 0;
    }
    const [id, ...pairs] = options.rest;
    if (id === undefined) {
      console.log(listText(formulas));
      return 0;
    }
    if (!formulaOf(id)) {
      const near = foundText(id);
      const hint = near ? `it leads to:\n${near}` : '"drumlin compute" lists them.';
      throw new UsageError(`there is no formula "${id}"; ${hint}`);
    }
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
