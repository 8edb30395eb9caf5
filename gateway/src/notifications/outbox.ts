import { randomUUID } from "node:crypto";
import type { DatabaseSync } from "node:sqlite";
import type { AlarmChange } from "../alarms/index.ts";
import { inTransaction } from "../database/index.ts";
import { type Picked, pick, type Waiting } from "./backlog.ts";
import { type Call, followCalls } from "./call.ts";
import { type DueMessage, isWaking, type Step } from "./due.ts";
import { statementsOf } from "./outbox-statements.ts";
import type { Recipient } from "./policy.ts";
import { Standings } from "./standings.ts";
import { type MessageState, ToldBook } from "./told-book.ts";

/** A call that is over is followed for so much longer than its messages are tried. */
const followedForMs = 26 * 3_600_000;
/** Messages that were delivered or given up are listed for so long. */
const keptForMs = 60 * 24 * 3_600_000;
/** Messages that wait for one destination; more can't be told apart from a fault of ours. */
const usualMaxWaiting = 500;

/** A message as it stands in the outbox. Times are engine time. */
export interface OutboxMessage {
  readonly id: string;
  readonly destination: string;
  readonly madeMs: number;
  readonly wakes: boolean;
  readonly list: string | null;
  readonly entries: readonly { readonly call: string; readonly step: Step; readonly number: number }[];
  readonly state: MessageState;
  readonly tries: number;
  readonly nextMs: number;
  readonly settledMs: number | null;
  readonly title: string;
  readonly error: string | null;
}

type Row = Readonly<Record<string, string | number | null>>;

const messageOf = (row: Row): OutboxMessage => ({
  id: row.id as string,
  destination: row.destination as string,
  madeMs: row.made as number,
  wakes: row.wakes === 1,
  list: row.list as string | null,
  entries: JSON.parse(row.entries as string) as OutboxMessage["entries"],
  state: row.state as MessageState,
  tries: row.tries as number,
  nextMs: row.next as number,
  settledMs: row.settled as number | null,
  title: row.title as string,
  error: row.error as string | null,
});

/** Calls, what was told of them, and messages with what became of them: a file that outlives every crash. */
export class Outbox {
  private readonly database: DatabaseSync;
  private readonly sql: ReturnType<typeof statementsOf>;
  private readonly byId = new Map<string, Call>();
  /** Calls of each alarm that are still followed. */
  private readonly ofAlarm = new Map<string, Map<string, Call>>();
  readonly told = new ToldBook();
  readonly standings: Standings;
  private readonly begun = new Map<string, number>();
  private readonly full = new Set<string>();
  private timesFull = 0;
  private readonly maxWaiting: number;

  constructor(database: DatabaseSync, maxWaiting = usualMaxWaiting) {
    this.database = database;
    this.maxWaiting = maxWaiting;
    this.sql = statementsOf(database);
    this.standings = new Standings(database);
    for (const { call } of this.sql.calls.all()) this.keep(JSON.parse(call as string) as Call);
    for (const row of this.sql.messages.iterate()) this.told.message(messageOf(row as Row));
    for (const row of this.sql.told.iterate() as Iterable<Row>)
      this.told.step(
        {
          id: row.id as string,
          destination: row.destination as string,
          state: row.state as MessageState,
          madeMs: row.made as number,
          settledMs: row.settled as number | null,
        },
        { call: row.call as string, step: row.step as Step, number: row.number as number },
      );
  }

  private keep(call: Call): void {
    this.byId.set(call.id, call);
    let calls = this.ofAlarm.get(call.key);
    if (!calls) {
      calls = new Map();
      this.ofAlarm.set(call.key, calls);
    }
    calls.set(call.id, call);
  }

  /** The last entry whose alarms are taken; null before the first. */
  cursor(): number | null {
    return (this.sql.cursor.get()?.seq as number | undefined) ?? null;
  }

  setCursor(seq: number): void {
    this.sql.setCursor.run({ seq });
  }

  calls(): readonly Call[] {
    return [...this.byId.values()];
  }

  call(id: string): Call | null {
    return this.byId.get(id) ?? null;
  }

  /** Takes changes of alarms, in order, up to an entry; those up to the cursor were taken before and are passed over. */
  follow(changes: readonly AlarmChange[], upToSeq: number): void {
    const cursor = this.cursor() ?? -1;
    const fresh = changes.filter(({ id }) => Number.parseInt(id, 10) > cursor);
    inTransaction(this.database, () => {
      for (const change of fresh)
        for (const call of followCalls([...(this.ofAlarm.get(change.alarm.key)?.values() ?? [])], change)) {
          this.keep(call);
          this.sql.putCall.run(call.id, call.key, call.calledAtMs, JSON.stringify(call));
        }
      if (upToSeq > cursor) this.setCursor(upToSeq);
    });
  }

  /** When a destination was first there: now, if it is new. */
  since(destination: string, nowMs: number): number {
    const known = this.begun.get(destination);
    if (known !== undefined) return known;
    this.sql.begin.run(destination, nowMs);
    const since = this.sql.since.get(destination)?.since as number;
    this.begun.set(destination, since);
    return since;
  }

  /** Puts messages that are due into the outbox, with all that they tell: both or nothing. */
  put(due: readonly DueMessage[], nowMs: number, titleOf: (message: DueMessage) => string): void {
    inTransaction(this.database, () => {
      for (const message of due) {
        const { n } = this.sql.countWaiting.get(message.destination) as { n: number };
        if (n >= this.maxWaiting) {
          // Nothing is lost: it is still due when there is room.
          if (!this.full.has(message.destination)) this.timesFull += 1;
          this.full.add(message.destination);
          continue;
        }
        this.full.delete(message.destination);
        this.putOne(message, nowMs, titleOf(message));
      }
    });
  }

  private putOne({ destination, entries, list }: DueMessage, nowMs: number, title: string): void {
    const id = randomUUID();
    const wakes = entries.some(isWaking);
    const told = entries.map(({ call, step, number }) => ({ call: call.id, step, number }));
    this.sql.putMessage.run({
      id,
      destination,
      made: nowMs,
      wakes: wakes ? 1 : 0,
      list,
      entries: JSON.stringify(told),
      title,
    });
    this.told.message({ id, destination, madeMs: nowMs, wakes, list, state: "waiting" });
    for (const one of told) {
      this.sql.putTold.run(destination, one.call, one.step, one.number, id);
      this.told.step({ id, destination, state: "waiting", madeMs: nowMs, settledMs: null }, one);
    }
  }

  /** The message of a destination that is to be tried now, with what goes into it; null while none is. */
  next(
    { id: destination, gathers }: Pick<Recipient, "id" | "gathers">,
    nowMs: number,
    titleOf: (message: DueMessage) => string,
  ): OutboxMessage | null {
    const picked = pick(this.waiting(destination), nowMs, gathers);
    if (!picked) return null;
    if (picked.absorbs.length > 0) this.absorb(picked, titleOf);
    return this.message(picked.id);
  }

  /** What waits for a destination, oldest first. */
  waiting(destination: string): readonly Waiting[] {
    return this.sql.waiting.all(destination).map((row) => ({
      id: row.id as string,
      madeMs: row.made as number,
      nextMs: row.next as number,
      tries: row.tries as number,
      wakes: row.wakes === 1,
      list: row.list as string | null,
    }));
  }

  message(id: string): OutboxMessage | null {
    const row = this.sql.message.get(id);
    return row ? messageOf(row as Row) : null;
  }

  private absorb({ id, absorbs }: Picked, titleOf: (message: DueMessage) => string): void {
    const into = this.message(id);
    if (!into) return;
    const others = absorbs.flatMap((other) => this.message(other) ?? []);
    const { destination } = into;
    const told = [into, ...others].flatMap(({ entries }) => entries);
    const entries = told.flatMap(({ call: of, ...rest }) => {
      const call = this.byId.get(of);
      return call ? [{ call, ...rest }] : [];
    });
    const wakes = into.wakes || others.some((other) => other.wakes);
    inTransaction(this.database, () => {
      this.sql.grow.run(
        JSON.stringify(told),
        wakes ? 1 : 0,
        titleOf({ destination, entries, list: null }),
        id,
      );
      for (const other of others) {
        this.sql.moveTold.run(id, destination, other.id);
        this.sql.dropMessage.run(other.id);
        const calls = other.entries.map(({ call }) => call);
        this.told.absorbed(other.id, id, destination, calls);
      }
    });
  }

  /** Writes down what became of a try: delivered, given up, or to be tried again at `nextMs`. */
  settle(
    message: OutboxMessage,
    result: {
      readonly state: MessageState;
      readonly nowMs: number;
      readonly nextMs: number;
      readonly error: string | null;
    },
  ): void {
    const { state, nowMs, nextMs, error } = result;
    const settledMs = state === "waiting" ? null : nowMs;
    this.sql.settle.run(state, message.tries + 1, nextMs, settledMs, error, message.id);
    const { id, destination, entries } = message;
    this.told.settled({ id, destination, calls: entries.map(({ call }) => call) }, state, nowMs);
  }

  /** Messages made since then, newest first. */
  messages(sinceMs: number, limit: number): readonly OutboxMessage[] {
    return this.sql.listed.all(sinceMs, limit).map((row) => messageOf(row as Row));
  }

  waitingFor(destination: string): number {
    return (this.sql.countWaiting.get(destination) as { n: number }).n;
  }

  /** Destinations for which something waits. */
  waitingDestinations(): readonly string[] {
    return this.sql.waitingDestinations.all().map(({ destination }) => destination as string);
  }

  /** How often so much waited for a destination that what was due had to wait for room. */
  overfull(): number {
    return this.timesFull;
  }

  /** Forgets calls that are over for longer than anything is tried, and old messages. */
  prune(nowMs: number): void {
    const old = nowMs - followedForMs;
    inTransaction(this.database, () => {
      for (const call of this.byId.values()) {
        const isOver = call.isReplaced || (call.endedAtMs !== null && !call.alarm.latched);
        if (!isOver || Math.max(call.calledAtMs, call.endedAtMs ?? 0, call.seenAtMs ?? 0) >= old) continue;
        this.byId.delete(call.id);
        this.ofAlarm.get(call.key)?.delete(call.id);
        if (this.ofAlarm.get(call.key)?.size === 0) this.ofAlarm.delete(call.key);
        this.sql.dropCall.run(call.id);
        this.sql.dropTold.run(call.id);
        this.told.forget(call.id);
      }
      this.sql.prune.run(nowMs - keptForMs);
    });
  }

  close(): void {
    this.database.close();
  }
}
