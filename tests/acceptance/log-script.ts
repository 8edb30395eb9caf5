/**
 * Whole-path tests that read like a log. One statement a line; "#" begins a remark; times are "600 s", "10 min", "2 h"
 * since the beginning, and "660–665 s" is a span, ends included.
 *
 *   line house:                                    an indented line file follows; the first is in force from the start
 *   at 5 s press: ec-2 8 uS/cm, flow-1 2.5 L/min   one pack of the node
 *   at 5 s press up 60 s: ec-2 8 uS/cm             the same from a node that says when it started
 *   from 0 to 600 s press: ec-2 0.5 uS/cm          the same pack each 5 s of [0, 600); "every 30 s" after the span
 *   from 0 to 600 s drums: level 100→130 L         the same, with a value on its way to the one at the span's end
 *   at 5 s press dated -90 s: ec-2 8 uS/cm         the same from a node with a clock, which is 90 s behind
 *   at 0 s press online, period 5 s                the node's presence
 *   at 9 s world broker/connected false            a fact that only the gateway sees
 *   at 9 s act acknowledge KEY                     an act on what stands under KEY; "shelve KEY 900 s"
 *   at 9 s act medium-change {"stage":"resin"}     any other act
 *   at 9 s act reset KEY refused CODE              an act that is refused
 *   at 9 s line other                              another line comes into force
 *   at 9 s restart, down 30 s                      stop, and start again from the saved rows
 *   at 9 s tick
 *   expect 660–665 s KEY raised, tell, calls       every change of every alarm but "judged" and "not-judged" is expected,
 *                                                  in order; those two only where a script wants them, with their reason
 *   leave out node-silent, site-silent             conditions that the script is not about
 */
export interface LogScript {
  readonly lines: ReadonlyMap<string, string>;
  readonly statements: readonly Statement[];
  readonly expected: readonly Expected[];
  readonly leftOut: readonly string[];
}

export type Statement = { readonly atMs: number; readonly text: string } & (
  | {
      readonly what: "pack";
      readonly node: string;
      readonly records: readonly object[];
      /** The node gives dates, by so much ahead; null: it gives none. */
      readonly aheadS: number | null;
    }
  | { readonly what: "online"; readonly node: string; readonly periodS: number }
  | { readonly what: "world"; readonly part: string; readonly fact: string; readonly value: unknown }
  | {
      readonly what: "alarm-act";
      readonly type: string;
      readonly key: string;
      readonly forMs: number | null;
      readonly refused: string | null;
    }
  | { readonly what: "act"; readonly type: string; readonly fields: object }
  | { readonly what: "line"; readonly name: string }
  | { readonly what: "restart"; readonly downMs: number }
  | { readonly what: "tick" }
);

export interface Expected {
  readonly fromMs: number;
  readonly toMs: number;
  readonly key: string;
  readonly why: string;
  /** Attention, "calls", "silent", the state after it, "under KEY", or why it is not judged. */
  readonly marks: readonly string[];
  readonly text: string;
}

const unitMs = { s: 1000, min: 60_000, h: 3_600_000 } as const;
const everyMs = 5000;
const states: Readonly<Record<string, boolean>> = { wet: true, dry: false, open: true, shut: false };
/** Into the SenML units of the wire. */
const wire: Readonly<Record<string, readonly [unit: string, times: number]>> = {
  "uS/cm": ["S/m", 1e-4],
  "L/min": ["m3/s", 1 / 60_000],
  L: ["m3", 1 / 1000],
  C: ["Cel", 1],
};

function msOf(number: string, unit: string): number {
  return Math.round(Number(number) * unitMs[unit as keyof typeof unitMs]);
}

function recordOf(text: string): object {
  const [n, value = "", unit] = text.trim().split(/\s+/);
  if (value in states) return { n, vb: states[value] };
  const [u, times] = wire[unit ?? ""] ?? [unit, 1];
  return { n, ...(u ? { u } : {}), v: Number(value) * times };
}

function actOf(text: string): Statement {
  const alarm =
    /^(acknowledge|shelve|unshelve|reset|out-of-service|in-service) (\S+)(?: (\d+) (s|min|h))?(?: refused (\S+))?$/.exec(
      text,
    );
  if (alarm)
    return {
      what: "alarm-act",
      atMs: 0,
      text,
      type: alarm[1] as string,
      key: alarm[2] as string,
      forMs: alarm[3] ? msOf(alarm[3], alarm[4] as string) : null,
      refused: alarm[5] ?? null,
    };
  const [, type = "", fields = "{}"] = /^(\S+)(?: (\{.*\}))?$/.exec(text) ?? [];
  return { what: "act", atMs: 0, text, type, fields: JSON.parse(fields) as object };
}

function happeningOf(text: string): Statement {
  const at = { atMs: 0, text };
  const online = /^(\S+) online, period (\S+) s$/.exec(text);
  if (online) return { ...at, what: "online", node: online[1] as string, periodS: Number(online[2]) };
  const pack = /^(\S+)(?: up (\S+) s)?(?: dated (\S+) s)?: (.+)$/.exec(text);
  if (pack) {
    const [first, ...others] = (pack[4] as string).split(",").map(recordOf);
    const labels = pack[2] ? { boot: 1, up: Number(pack[2]) } : {};
    const aheadS = pack[3] === undefined ? null : Number(pack[3]);
    const records = [{ ...labels, ...first }, ...others];
    return { ...at, what: "pack", node: pack[1] as string, records, aheadS };
  }
  const world = /^world ([^/\s]+)\/(\S+) (\S+)$/.exec(text);
  if (world) {
    const value = JSON.parse(world[3] as string) as unknown;
    return { ...at, what: "world", part: world[1] as string, fact: world[2] as string, value };
  }
  const line = /^line (\S+)$/.exec(text);
  if (line) return { ...at, what: "line", name: line[1] as string };
  const restart = /^restart(?:, down (\S+) (s|min|h))?$/.exec(text);
  if (restart)
    return { ...at, what: "restart", downMs: restart[1] ? msOf(restart[1], restart[2] as string) : 1000 };
  if (text.startsWith("act ")) return actOf(text.slice(4));
  if (text === "tick") return { ...at, what: "tick" };
  throw new Error(`"${text}" is no statement.`);
}

function expectedOf(text: string): Expected | null {
  const match = /^expect ([\d.]+)(?:–([\d.]+))? (s|min|h) (\S+) ([a-z-]+)(?:[, ]+(.+))?$/.exec(text);
  if (!match) return null;
  const [, from = "", to, unit = "s", key = "", why = "", marks] = match;
  const fromMs = msOf(from, unit);
  return {
    fromMs,
    // A moment alone is the second that begins with it.
    toMs: to === undefined ? fromMs + 999 : msOf(to, unit),
    key,
    why,
    marks: marks?.split(/, */) ?? [],
    text,
  };
}

/** Each "100→130" as the value so far on its way. */
const onTheWay = (text: string, share: number): string =>
  text.replace(/([\d.]+)→([\d.]+)/g, (_, begin: string, end: string) =>
    String(Math.round((Number(begin) + share * (Number(end) - Number(begin))) * 1e6) / 1e6),
  );

function* timesOf(text: string): Iterable<[atMs: number, rest: string]> {
  const at = /^at ([\d.]+) (s|min|h) (.+)$/.exec(text);
  if (at) yield [msOf(at[1] as string, at[2] as string), at[3] as string];
  const from = /^from ([\d.]+) to ([\d.]+) (s|min|h) (?:every ([\d.]+) (s|min|h) )?(.+)$/.exec(text);
  if (!from) return;
  const [, begin = "", end = "", unit = "s", step, stepUnit = "s", rest = ""] = from;
  const stepMs = step ? msOf(step, stepUnit) : everyMs;
  const [fromMs, toMs] = [msOf(begin, unit), msOf(end, unit)];
  for (let atMs = fromMs; atMs < toMs; atMs += stepMs)
    yield [atMs, onTheWay(rest, (atMs - fromMs) / (toMs - fromMs))];
}

/** Reads a script. Throws where it can't be understood, and says which statement. */
export function readLogScript(script: string): LogScript {
  const lines = new Map<string, string>();
  const statements: Statement[] = [];
  const expected: Expected[] = [];
  const leftOut: string[] = [];
  let open: string | null = null;
  for (const raw of script.split("\n")) {
    const text = raw.replace(/(^|\s)#.*$/, "").trimEnd();
    if (text === "") continue;
    if (open !== null && /^\s/.test(text)) {
      lines.set(open, `${lines.get(open)}${text.replace(/^ {2}/, "")}\n`);
      continue;
    }
    open = /^line (\S+):$/.exec(text)?.[1] ?? null;
    if (open !== null) {
      lines.set(open, "");
      continue;
    }
    const out = /^leave out (.+)$/.exec(text);
    const wanted = expectedOf(text);
    if (out) leftOut.push(...(out[1] as string).split(/, */));
    else if (wanted) expected.push(wanted);
    else {
      const times = [...timesOf(text)];
      if (times.length === 0) throw new Error(`"${text}" is no statement.`);
      for (const [atMs, happening] of times) statements.push({ ...happeningOf(happening), atMs, text });
    }
  }
  // At one time, in the order of the script.
  statements.sort((a, b) => a.atMs - b.atMs);
  return { lines, statements, expected, leftOut };
}
