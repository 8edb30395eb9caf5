import { acts } from "../../acts/index.ts";
import { readOptions, UsageError } from "../options.ts";
import { type ActField, type AnyAct, actHelp, actName, actOfName, fieldsOf } from "./act-usage.ts";
import type { Command } from "./command.ts";
import { type Door, defaultUrl, doorAt } from "./gateway-door.ts";

const help = `drumlin act                                       lists what can be done and entered
drumlin act TYPE --help                           what it takes, and an example
drumlin act TYPE NAME=VALUE … [--json]            does it, in the name of a token

--url URL      where the gateway answers; http://127.0.0.1:8080 unless told
--token TOKEN  an operator's token ("drumlin token add NAME --role operator"). Better in DRUMLIN_TOKEN than here,
               where other people of this machine can read it.
Lists and objects are given as JSON. The occurrence of an alarm may be left out: then it is the one that stands now.
Exit: 0 taken, 1 refused or no gateway there, 2 usage.`;

type Values = ReadonlyMap<string, unknown>;

function readValue({ name, kind }: ActField, text: string): unknown {
  switch (kind) {
    case "number": {
      const value = Number(text);
      if (text.trim() === "" || !Number.isFinite(value))
        throw new UsageError(`${name}=${text.slice(0, 60)} is no number.`);
      return value;
    }
    case "flag":
      if (text !== "true" && text !== "false") throw new UsageError(`${name} is true or false.`);
      return text === "true";
    case "list":
      try {
        return JSON.parse(text);
      } catch {
        throw new UsageError(`${name}=${text.slice(0, 60)} is no JSON.`);
      }
    default:
      return text;
  }
}

/** What was told, by name. Throws UsageError for what the act does not take, and for what is told twice or missing. */
function valuesOf(act: AnyAct, pairs: readonly string[]): Values {
  const fields = new Map(fieldsOf(act).map((field) => [field.name, field]));
  const values = new Map<string, unknown>();
  for (const pair of pairs) {
    const at = pair.indexOf("=");
    const name = pair.slice(0, at);
    const field = fields.get(name);
    if (at < 1) throw new UsageError(`"${pair}" is not NAME=VALUE.`);
    if (!field)
      throw new UsageError(`${actName(act)} takes no ${name}; it takes ${[...fields.keys()].join(", ")}.`);
    if (values.has(name)) throw new UsageError(`${name} is given twice; give it once.`);
    values.set(name, readValue(field, pair.slice(at + 1)));
  }
  const missing = [...fields.values()].filter(
    ({ name, needed }) => needed && !values.has(name) && !(name === "occurrence" && values.has("key")),
  );
  if (missing.length > 0)
    throw new UsageError(`${missing.map(({ name }) => name).join(", ")} is missing.\n\n${actHelp(act)}`);
  return values;
}

/** The occurrence that stands under a key; empty where none does: the gateway then says why it can't be. */
async function standingOccurrence(door: Door, key: unknown): Promise<string> {
  const { ok, said } = await door.ask("/api/alarms?standing=true");
  const { items = [] } = (ok ? said : {}) as { items?: readonly { key: string; occurrence: string }[] };
  return items.find((alarm) => alarm.key === key)?.occurrence ?? "";
}

async function give(act: AnyAct, values: Values, door: Door) {
  const path = act.path.replace(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(`${values.get(name)}`));
  const fields = fieldsOf(act);
  const sent = fields.filter(({ inPath, name }) => !inPath && values.has(name));
  const body = Object.fromEntries(sent.map(({ name }) => [name, values.get(name)]));
  const wantsOccurrence = fields.some(({ name }) => name === "occurrence") && !values.has("occurrence");
  if (wantsOccurrence) body.occurrence = await standingOccurrence(door, values.get("key"));
  return door.ask(path, body);
}

function list(): string {
  const width = Math.max(...acts.map((act) => actName(act).length));
  return acts.map((act) => `${actName(act).padEnd(width)}  ${act.summary}`).join("\n");
}

/** `drumlin act`: any act from the command line, at a running gateway. */
export const actCommand: Command = {
  name: "act",
  summary: "does or enters something at a running gateway: acknowledge, release, calibrate …",
  help,
  helpOf(args) {
    const act = actOfName(args.find((arg) => !arg.startsWith("-")) ?? "");
    return act ? actHelp(act) : null;
  },
  async run(args) {
    const options = readOptions(args, { url: "text", token: "text", json: "flag" });
    const [name, ...pairs] = options.rest;
    if (name === undefined) {
      console.log(list());
      return 0;
    }
    const act = actOfName(name);
    if (!act) throw new UsageError(`there is no act "${name}"; "drumlin act" lists them.`);
    const url = options.text("url") ?? defaultUrl;
    if (!URL.canParse(url))
      throw new UsageError(`--url ${url}: write http://HOST:PORT or https://HOST:PORT.`);
    const values = valuesOf(act, pairs);
    const answer = await give(act, values, doorAt(url, options.text("token")));
    const { code, detail } = answer.said as { code?: string; detail?: string };
    if (options.flag("json")) console.log(JSON.stringify(answer.said));
    else if (answer.ok) console.log(`${name}: taken`);
    else console.error(`${code ?? "refused"}: ${detail ?? "the gateway did not take it."}`);
    return answer.ok ? 0 : 1;
  },
};
