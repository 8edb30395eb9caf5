// node tests/tooling/mutate-rows.ts [--part I/N] [CONDITION …]
// Breaks each gate, delay, deadband, latch, grouping and usual limit of each condition once, and runs the scripts of that
// condition: one of them must fail. Prints what survives; exit 1 when something does that is not in `known`. A part takes
// every Nth condition.
import { parseArgs } from "node:util";
import { type AnyCondition, conditionRows, type Verdict } from "@drumlin/gateway/alarms";
import { settingsOf } from "@drumlin/gateway/line";
import { scriptsOf } from "../acceptance/conditions/scripts.ts";
import { runLogScript } from "../acceptance/log-run.ts";

/** Survivors that are right, each with its reason. */
const known: ReadonlyMap<string, string> = new Map([
  [
    "site-silent: unknown taken as false",
    "a node that was heard is never unheard again: never unknown while it stands",
  ],
  [
    "node-silent: unknown taken as false",
    "a node that was heard is never unheard again: never unknown while it stands",
  ],
  [
    "watch-lost: unknown taken as false",
    "unknown for 60 s after a start only: no longer than it takes to be over",
  ],
  ["fill-slow: unknown taken as true", "without a fill nothing is counted"],
  ["readings-refused: deadband of three times", "three times nought is nought"],
  ...["float-stuck", "float-chatter", "trip-drift", "float-unproven", "probe-flat"].map(
    (row) =>
      [
        `${row}: unknown taken as false`,
        "what is known of a float or probe stays known while it stands",
      ] as const,
  ),
]);

/**
 * Rows that can be judged whenever they are: what they go by was told, or is not so. Those of a drum's guard are unknown
 * only after a start without its rows, which `raised-versions` holds.
 */
const neverUnknown: ReadonlySet<string> = new Set([
  "drum-not-stopping",
  "fill-long",
  "flow-disagrees",
  "no-inflow",
  "unplanned-inflow",
  "broker-lost",
  "broker-refuses",
  "series-behind",
  "delivery-failed",
  "heartbeat-missed",
  "work-forgotten",
]);

interface Mutation {
  readonly name: string;
  readonly change: Partial<AnyCondition>;
}

type Delays = ReturnType<AnyCondition["on"]>;
type Delay = Exclude<Delays, readonly unknown[]>;

const every = (delays: Delays): readonly Delay[] => (Array.isArray(delays) ? delays : [delays as Delay]);
const isNothing = (delays: Delays) => every(delays).some((delay) => Object.keys(delay).length === 0);
const longer = (delay: Delay): Delay =>
  Object.fromEntries(Object.entries(delay).map(([kind, amount]) => [kind, amount * 1.5 + 1])) as Delay;

/** A delay left out, made longer, and without each of its kinds. */
function* ofDelay(part: "on" | "gross" | "off", row: AnyCondition): Iterable<Mutation> {
  const own = row[part];
  if (!own) return;
  const now = own.call(row, {});
  if (isNothing(now)) {
    yield {
      name: `${part} delay of 10 min instead of none`,
      change: { [part]: () => ({ elapsedMs: 600_000 }) },
    };
    return;
  }
  yield { name: `no ${part} delay`, change: { [part]: () => ({}) } };
  yield { name: `${part} delay half as long again`, change: { [part]: () => every(now).map(longer) } };
  for (const [index, delay] of every(now).entries()) {
    const others = every(now).filter((_, place) => place !== index);
    if (others.length > 0)
      yield { name: `${part} delay without its ${index + 1}.`, change: { [part]: () => others } };
    if (Object.keys(delay).length < 2) continue;
    for (const kind of Object.keys(delay)) {
      const { [kind as keyof Delay]: _, ...less } = delay;
      yield { name: `${part} delay without ${kind}`, change: { [part]: () => [...others, less] } };
    }
  }
}

function judging(
  row: AnyCondition,
  change: (verdict: Verdict, nowMs: number) => Verdict,
): Partial<AnyCondition> {
  return { judge: (look) => change(row.judge(look), look.nowMs) };
}

/** What a row's verdicts carry in its own scripts. */
function saidIn(row: AnyCondition): ReadonlySet<string> {
  const said = new Set<string>();
  const change = judging(row, (verdict) => {
    if (verdict.is === "unknown") said.add("unknown");
    for (const name of Object.keys(verdict)) said.add(name);
    return verdict;
  });
  const rows = conditionRows.map((one) => (one === row ? { ...row, ...change } : one));
  for (const [, script] of scriptsOf(row.id)) runLogScript(script, rows);
  return said;
}

function* ofVerdict(row: AnyCondition): Iterable<Mutation> {
  const said = saidIn(row);
  for (const is of said.has("unknown") ? [true, false] : [])
    yield {
      name: `unknown taken as ${is}`,
      change: judging(row, (verdict, tMs) => (verdict.is === "unknown" ? { ...verdict, is, tMs } : verdict)),
    };
  if (!said.has("unknown") && !neverUnknown.has(row.id))
    yield { name: "never unknown in a script", change: {} };
  if (said.has("on"))
    yield {
      name: "its own delay for how it is known",
      change: judging(row, ({ on: _, ...verdict }) => verdict),
    };
  if (said.has("againAtMs"))
    yield { name: "not looked at again", change: judging(row, ({ againAtMs: _, ...verdict }) => verdict) };
}

/** Its usual limits, one of them so many times as large. */
function withLimit(row: AnyCondition, name: string, times: number): Partial<AnyCondition> {
  const change = (limits: object): object => {
    const was = (limits as Readonly<Record<string, unknown>>)[name];
    return typeof was === "number" ? { ...limits, [name]: was * times } : limits;
  };
  return { defaults: (line, subject) => change(row.defaults(line, subject)) };
}

/** Limits that a condition has of itself in a line of its scripts which sets no other. */
function usualLimits(row: AnyCondition): ReadonlySet<string> {
  const usual = new Set<string>();
  const noting: AnyCondition = {
    ...row,
    defaults(line, subject) {
      const limits: object = row.defaults(line, subject);
      const set = settingsOf(line, row.id, subject.name);
      for (const [name, limit] of Object.entries(limits))
        if (typeof limit === "number" && Number.isFinite(limit) && !(name in set)) usual.add(name);
      return limits;
    },
  };
  const rows = conditionRows.map((one) => (one === row ? noting : one));
  for (const [, script] of scriptsOf(row.id)) runLogScript(script, rows);
  return usual;
}

function* ofLimits(row: AnyCondition): Iterable<Mutation> {
  for (const name of usualLimits(row)) {
    yield { name: `${name} half as high again`, change: withLimit(row, name, 1.5) };
    yield { name: `${name} a third lower`, change: withLimit(row, name, 2 / 3) };
  }
}

function* mutationsOf(row: AnyCondition): Iterable<Mutation> {
  if (row.gate) yield { name: "no gate", change: { gate: () => null } };
  for (const part of ["on", "gross", "off"] as const) yield* ofDelay(part, row);
  if (row.gross) {
    yield { name: "nothing is gross", change: judging(row, (verdict) => ({ ...verdict, gross: false })) };
    yield { name: "gross passes no gate", change: { grossPasses: [] } };
    yield {
      name: "gross passes every gate",
      change: { grossPasses: ["settling", "no-flow", "flow-unknown"] },
    };
  }
  const { deadband } = row;
  if (deadband) {
    yield { name: "no deadband", change: { deadband: () => Number.NEGATIVE_INFINITY } };
    yield { name: "deadband of three times", change: { deadband: (...at) => deadband(...at) * 3 + 1e-6 } };
  }
  yield { name: `${row.isLatching ? "not " : ""}latching`, change: { isLatching: !row.isLatching } };
  for (const attention of ["record", "today", "tell", "wake"] as const)
    yield { name: `attention always ${attention}`, change: { attention: () => attention } };
  if (row.causes) yield { name: "causes nothing", change: { causes: [] } };
  if (row.work) yield { name: "no work explains it", change: { work: () => [] } };
  if (row.endedBy) yield { name: "no act ends it", change: { endedBy: () => null } };
  yield* ofLimits(row);
  yield* ofVerdict(row);
}

/** The attention that a row always has can't be mutated into itself. */
function isSame(row: AnyCondition, { name }: Mutation): boolean {
  return name === `attention always ${row.words.attention.split(",")[0]}`;
}

const { values, positionals: asked } = parseArgs({
  options: { part: { type: "string", default: "1/1" } },
  allowPositionals: true,
});
const [part = 1, parts = 1] = values.part.split("/").map(Number);
const survivors: string[] = [];
let count = 0;
for (const [index, row] of conditionRows.entries()) {
  if (index % parts !== part - 1 || (asked.length > 0 && !asked.includes(row.id))) continue;
  const scripts = scriptsOf(row.id);
  for (const mutation of mutationsOf(row)) {
    if (isSame(row, mutation)) continue;
    count += 1;
    const rows = conditionRows.map((one) => (one === row ? { ...row, ...mutation.change } : one));
    const isFound = scripts.some(([, script]) => runLogScript(script, rows).length > 0);
    if (!isFound) survivors.push(`${row.id}: ${mutation.name}`);
  }
}
for (const survivor of survivors)
  console.log(`survives: ${survivor}${known.has(survivor) ? ` (${known.get(survivor)})` : ""}`);
console.log(`${count} mutations, ${count - survivors.length} found, ${survivors.length} survive`);
process.exitCode = survivors.every((survivor) => known.has(survivor)) ? 0 : 1;
