import { deserialize, serialize } from "node:v8";
import { type AlarmChange, type AnyCondition, alarmCell, readLineFile } from "@drumlin/gateway/alarms";
import { createStages } from "@drumlin/gateway/app";
import { Composer, type PathEntry, type PathEvent, SavedRows } from "@drumlin/gateway/path";
import type { Expected, LogScript, Statement } from "./log-script.ts";
import { nodeSays } from "./node-says.ts";

/** Begin of every script that says no other, epoch ms. */
const usualBeginMs = Date.UTC(2026, 2, 3, 4, 0, 0);
const noRecords = { last: () => [], list: () => [] };

interface LogHouseOptions {
  /** Begin of the script, epoch ms. */
  readonly beginMs?: number;
  /** Told everything that comes out of the path. */
  readonly take?: (event: PathEvent) => void;
}

/** Runs a script's happenings through the whole path with these conditions. */
export class LogHouse {
  readonly changes: AlarmChange[] = [];
  readonly faults: string[] = [];
  private readonly script: LogScript;
  private readonly rows: readonly AnyCondition[];
  private readonly saved = new SavedRows();
  private yaml = "";
  private composer: Composer;
  private seq = 0;
  private refused: string | null = null;
  private readonly beginMs: number;
  private readonly hear: (event: PathEvent) => void;

  constructor(script: LogScript, rows: readonly AnyCondition[], options: LogHouseOptions = {}) {
    this.script = script;
    this.rows = rows;
    this.beginMs = options.beginMs ?? usualBeginMs;
    this.hear = options.take ?? (() => {});
    this.composer = this.newComposer();
    const [first = ""] = script.lines.values();
    this.push({ kind: "start" }, 0);
    this.putLine(first, 0);
  }

  private putLine(yaml: string, atMs: number): void {
    this.yaml = yaml;
    this.push({ kind: "line", yaml }, atMs);
  }

  /** Goes on from the saved rows, as if nothing had been away: everything that is remembered is in them. */
  beginAgain(): void {
    this.saved.apply(deserialize(serialize(this.composer.changes())));
    this.composer = this.newComposer();
    this.composer.restore(this.saved, noRecords);
  }

  /** Somebody saves the line with another remark in it: nothing that is judged has changed. */
  saveLineAgain(atMs: number): void {
    this.putLine(`${this.yaml}# again\n`, atMs);
  }

  private newComposer(): Composer {
    return new Composer({
      stages: createStages(this.rows),
      readLine: (yaml) => {
        const read = readLineFile(yaml);
        if (!read.ok) this.faults.push(`the line can't be read: ${JSON.stringify(read.faults)}`);
        return read.ok ? read.line : null;
      },
    });
  }

  private push(entry: object, atMs: number): void {
    this.seq += 1;
    const whole = { seq: this.seq, receivedAt: this.beginMs + atMs, ...entry } as PathEntry;
    this.composer.push(whole, (event) => {
      this.hear(event);
      if (event.kind === "alarm") this.changes.push(event as AlarmChange);
      if (event.kind === "act-done")
        this.refused = (event as unknown as { refused: { code: string } | null }).refused?.code ?? null;
    });
  }

  private message(node: string, what: "readings" | "presence", body: unknown, atMs: number): void {
    this.push(nodeSays(node, what, body), atMs);
  }

  private act(act: object, atMs: number): void {
    this.push({ kind: "act", act: { id: `act-${this.seq}`, by: "keeper", ...act } }, atMs);
  }

  /** As a node with a clock sends them, which is ahead by so much. */
  private dated(records: readonly object[], aheadS: number | null, atMs: number): readonly object[] {
    if (aheadS === null) return records;
    const t = (this.beginMs + atMs) / 1000 + aheadS;
    return records.map((record) => ({ ...record, t }));
  }

  take(statement: Statement): void {
    const { atMs } = statement;
    switch (statement.what) {
      case "pack":
        this.message(statement.node, "readings", this.dated(statement.records, statement.aheadS, atMs), atMs);
        return;
      case "online": {
        const presence = {
          state: "online",
          boot: 1,
          firmware: "1",
          protocol: 1,
          period_s: statement.periodS,
        };
        this.message(statement.node, "presence", presence, atMs);
        return;
      }
      case "world": {
        const { part, fact, value } = statement;
        this.push({ kind: "world", part, fact, value }, atMs);
        return;
      }
      case "alarm-act": {
        const { type, key, forMs, refused, text } = statement;
        const occurrence = this.composer.board.get(alarmCell, key)?.occurrence ?? "";
        const untilMs = forMs === null ? {} : { untilMs: this.beginMs + atMs + forMs };
        this.act({ type, key, occurrence, ...untilMs }, atMs);
        if (this.refused !== refused) this.faults.push(`${text}: ${this.refused ?? "taken"}`);
        return;
      }
      case "act": {
        const { type, fields, text } = statement;
        const untilS = (fields as { untilS?: number }).untilS;
        this.act({ type, ...fields, ...(untilS ? { untilMs: this.beginMs + untilS * 1000 } : {}) }, atMs);
        if (this.refused !== null) this.faults.push(`${text}: ${this.refused}`);
        return;
      }
      case "line":
        this.putLine(this.script.lines.get(statement.name) ?? "", atMs);
        return;
      case "restart":
        this.push({ kind: "stop" }, atMs);
        this.beginAgain();
        this.push({ kind: "start" }, atMs + statement.downMs);
        return;
      case "tick":
        this.push({ kind: "tick" }, atMs);
    }
  }
}

const isJudging = ({ why }: Pick<AlarmChange, "why">) => why === "judged" || why === "not-judged";

function marksOf({ alarm, annunciated, to }: AlarmChange): readonly string[] {
  return [
    to,
    alarm.attention,
    annunciated ? "calls" : "silent",
    alarm.judged.because ?? "",
    alarm.under ?? "",
  ];
}

function textOf(change: AlarmChange): string {
  const { atMs, alarm, why } = change;
  const marks = marksOf(change).filter((mark) => mark !== "");
  return `${(atMs - usualBeginMs) / 1000} s ${alarm.key} ${why}, ${marks.join(", ")}`;
}

function fits(change: AlarmChange, { fromMs, toMs, key, why, marks }: Expected): boolean {
  const atMs = change.atMs - usualBeginMs;
  const has = marksOf(change);
  return (
    atMs >= fromMs &&
    atMs <= toMs &&
    change.alarm.key === key &&
    change.why === why &&
    marks.every((mark) => has.includes(mark.replace(/^under /, "")))
  );
}

/** Statements after which it is disturbed: the last before and the first after each change that is expected. */
function disturbedAfter({ statements, expected }: LogScript): ReadonlySet<Statement> {
  return new Set(
    expected
      .flatMap(({ fromMs, toMs }) => [
        statements.findLast(({ atMs }) => atMs < fromMs),
        statements.find(({ atMs }) => atMs > toMs),
      ])
      .filter((statement) => statement !== undefined),
  );
}

/**
 * Runs a script; gives what was not as it should be, in words. Empty: all was. `isDisturbed`: before and after each change
 * that it expects the path is begun again from its rows, and its line saved again: that must change nothing.
 */
export function runLogScript(
  script: LogScript,
  rows: readonly AnyCondition[],
  isDisturbed = false,
): readonly string[] {
  const house = new LogHouse(script, rows);
  const disturbed = isDisturbed ? disturbedAfter(script) : new Set();
  try {
    for (const statement of script.statements) {
      house.take(statement);
      if (!disturbed.has(statement)) continue;
      house.beginAgain();
      house.saveLineAgain(statement.atMs);
    }
  } catch (error) {
    return [`the path threw: ${error instanceof Error ? error.message : String(error)}`];
  }
  const faults = [...house.faults];
  const changes = house.changes.filter(({ alarm }) => !script.leftOut.includes(alarm.condition));
  const wantsJudging = (change: AlarmChange) => script.expected.some((expected) => fits(change, expected));
  const told = changes.filter((change) => !isJudging(change) || wantsJudging(change));
  const count = Math.max(told.length, script.expected.length);
  for (let index = 0; index < count; index += 1) {
    const change = told[index];
    const expected = script.expected[index];
    if (change && expected && fits(change, expected)) continue;
    faults.push(`${expected?.text ?? "nothing expected"}; but ${change ? textOf(change) : "nothing"} came`);
    break;
  }
  return faults;
}
