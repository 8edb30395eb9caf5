import { compute, type Formula, findFormulas, formulaOf, formulas, tradeWordOf } from "../../water/index.ts";
import { readOptions, UsageError } from "../options.ts";
import type { Command } from "./command.ts";
import { formulaHelp, valueLines } from "./formula-help.ts";

const help = `drumlin compute                                   lists the formulas
drumlin compute --find "WORDS"                    lists those that a word leads to: TDS, EBCT, "specific conductance"
drumlin compute FORMULA --help                    its inputs, units, ranges, source and an example
drumlin compute FORMULA NAME=VALUE … [--json]     runs it

A value is a number in the input's own unit, or has its unit with it: temperature="64 F". A list has a comma and a
space between values: volume="10, 20, 30"; null stands for a missing one. Objects are given as JSON:
pairs='[{"reading": 84, "correction": 2}]'. No input may be given twice.
Exit: 0 computed, 1 refused (the message says which input and its range), 2 usage.`;

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
  return text;
}

/** Inputs by name. Throws UsageError for what is not NAME=VALUE, and for a name that is given twice: neither wins. */
function inputsOf(pairs: readonly string[]): Readonly<Record<string, unknown>> {
  const given = new Map<string, unknown>();
  for (const pair of pairs) {
    const at = pair.indexOf("=");
    if (at < 1) throw new UsageError(`"${pair}" is not NAME=VALUE.`);
    const name = pair.slice(0, at);
    if (given.has(name)) throw new UsageError(`${name} is given twice; give it once.`);
    given.set(name, inputOf(pair.slice(at + 1)));
  }
  return Object.fromEntries(given);
}

/** `drumlin compute`: a formula of the chemistry, with its units and source. */
export const computeCommand: Command = {
  name: "compute",
  summary: "runs one formula of the water chemistry, or lists them",
  help,
  helpOf(args) {
    const asked = args.find((arg) => !arg.startsWith("-")) ?? "";
    const formula = formulaOf(asked);
    return formula ? formulaHelp(formula) : foundText(asked);
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
    const computed = compute(id, inputsOf(pairs));
    if (options.flag("json")) console.log(JSON.stringify(computed));
    else if (computed.ok) for (const line of valueLines(computed.values, computed.units)) console.log(line);
    else console.error(`${computed.code}: ${computed.message}`);
    return computed.ok ? 0 : 1;
  },
};
