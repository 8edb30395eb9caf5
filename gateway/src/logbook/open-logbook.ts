import { existsSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import type { Act, Calibration } from "../acts/index.ts";
import type { AlarmChange } from "../alarms/index.ts";
import type { DrumWater, Fill } from "../fills/index.ts";
import type { NodePresence, Rejection } from "../readings/index.ts";

import { createDerivationQueue, type DerivationQueue } from "./derivation-queue.ts";

const schemaVersion = 3;
/** Examples kept of each code and node. */
const mostExamples = 20;

/** What the logbook writes down. */
export type LogbookOutcome =
  | AlarmChange
  | Fill
  | DrumWater
  | Rejection
  | {
      readonly kind: "act-done";
      readonly id: string;
      readonly act: Act;
      readonly atMs: number;
      readonly refused: { readonly code: string } | null;
    }
  | { readonly kind: "line"; readonly seq: number; readonly atMs: number; readonly yaml: string }
  | NodePresence
  | { readonly kind: "start"; readonly seq: number; readonly atMs: number };

/** Something of the past that the path hears again when it is run over stored readings. */
export interface PastEvent {
  readonly kind: "act" | "line" | "start" | "presence";
  readonly seq: number;
  /** When it counts from: an act's `validFromMs` where it has one, else when it came. */
  readonly atMs: number;
  /** The act, the line's text, or the presence. */
  readonly what: unknown;
}

/** One kind of rejection of one node, with its latest examples. */
export interface RejectionCount {
  readonly code: string;
  readonly node: string | null;
  readonly count: number;
  readonly lastAtMs: number;
  readonly examples: readonly {
    readonly atMs: number;
    readonly topic: string;
    readonly detail: string;
    readonly example: string;
  }[];
}

/** An act as it was written down, with the changes of alarms that it made. */
export interface ActRecord {
  /** Its place in the logbook: later acts have greater ones. */
  readonly place: number;
  readonly atMs: number;
  readonly act: Act;
  /** Code of the refusal; null when it was taken. */
  readonly refused: string | null;
  readonly changes: readonly { readonly key: string; readonly from: string; readonly to: string }[];
}

/** Acts, alarms, lines and rejections, kept for ever but for the examples of rejections. */
export interface Logbook {
  /** Writes outcomes in one transaction; one that is written already is left as it is. */
  record(outcomes: readonly LogbookOutcome[]): void;
  /** Alarm changes, newest first; `before` is the place of the last one of the page before. */
  alarmChanges(
    limit: number,
    before?: number,
  ): readonly { readonly place: number; readonly change: AlarmChange }[];
  /** Alarm changes of entries after `seq`, oldest first. */
  alarmChangesAfter(seq: number, limit: number): readonly AlarmChange[];
  /** Acts, newest first; `before` is the place of the last one of the page before. */
  acts(limit: number, before?: number): readonly ActRecord[];
  /** Acts of one kind that were taken, newest first. */
  actsOf(type: Act["type"], limit: number, before?: number): readonly ActRecord[];
  /** Fills, newest first, of one drum or of all; that began before `beforeMs` and at or after `fromMs`. */
  fills(asked: {
    readonly limit: number;
    readonly drum?: string;
    readonly beforeMs?: number;
    readonly fromMs?: number;
  }): readonly Fill[];
  fill(id: string): Fill | null;
  rejections(): readonly RejectionCount[];
  /** Calibrations that were taken, in the order in which they were entered, each with the time from which it is valid. */
  calibrations(): readonly Calibration[];
  /** The last change of each alarm, in the order in which they came. */
  lastAlarms(): readonly AlarmChange[];
  /** The last word of each drum. */
  lastWords(beforeMs?: number): readonly DrumWater[];
  /** The newest `perDrum` fills of each drum, oldest first. */
  /** Derivations that were asked for. */
  readonly derivations: DerivationQueue;
  lastFills(perDrum: number, beforeMs?: number): readonly Fill[];
  /** The line in force last, or at a time. */
  lastLine(beforeMs?: number): string | null;
  /** The last presence of each node, from before a time. */
  lastPresences(beforeMs?: number): readonly NodePresence[];
  /** Acts that were taken, lines, starts and presences of [fromMs, toMs), in their order. */
  pastEvents(fromMs: number, toMs: number): readonly PastEvent[];
  /** Puts the words that a derivation gave in place of those of [fromMs, toMs). */
  replaceWords(fromMs: number, toMs: number, words: readonly DrumWater[]): void;
  close(): void;
}

/** Opens the logbook of a data folder. Throws when a newer version wrote it. */
export function openLogbook({ folder }: { readonly folder: string }): Logbook {
  mkdirSync(folder, { recursive: true });
  const database = new DatabaseSync(join(folder, "logbook.sqlite"));
  database.exec("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;");
  const { user_version: version } = database.prepare("PRAGMA user_version").get() as { user_version: number };
  if (version > schemaVersion)
    throw new Error(
      `The logbook was written by a newer Drumlin (schema ${version}; this one knows ${schemaVersion}): start that version.`,
    );
  const copy = join(folder, `logbook-before-${schemaVersion}.sqlite`);
  if (version > 0 && version < schemaVersion && !existsSync(copy))
    database.prepare("VACUUM INTO ?").run(copy);
  database.exec(`
    CREATE TABLE IF NOT EXISTS alarm (place INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, seq INTEGER NOT NULL, at INTEGER NOT NULL, key TEXT NOT NULL, change TEXT NOT NULL);
    CREATE INDEX IF NOT EXISTS alarm_seq ON alarm (seq);
    CREATE TABLE IF NOT EXISTS act (id TEXT PRIMARY KEY, at INTEGER NOT NULL, type TEXT NOT NULL, refused TEXT, act TEXT NOT NULL);
    CREATE TABLE IF NOT EXISTS line (seq INTEGER PRIMARY KEY, at INTEGER NOT NULL, yaml TEXT NOT NULL);
    CREATE TABLE IF NOT EXISTS rejection (code TEXT NOT NULL, node TEXT NOT NULL, count INTEGER NOT NULL, last_seq INTEGER NOT NULL, last_record INTEGER NOT NULL, last_at INTEGER NOT NULL, examples TEXT NOT NULL, PRIMARY KEY (code, node));
    CREATE TABLE IF NOT EXISTS fill (id TEXT PRIMARY KEY, drum TEXT NOT NULL, started INTEGER NOT NULL, fill TEXT NOT NULL);
    CREATE INDEX IF NOT EXISTS fill_started ON fill (started);
    CREATE TABLE IF NOT EXISTS drum_water (drum TEXT NOT NULL, at INTEGER NOT NULL, water TEXT NOT NULL, PRIMARY KEY (drum, at));
    CREATE TABLE IF NOT EXISTS presence (node TEXT NOT NULL, seq INTEGER NOT NULL, at INTEGER NOT NULL, presence TEXT NOT NULL, PRIMARY KEY (node, seq)) WITHOUT ROWID;
    CREATE TABLE IF NOT EXISTS start (seq INTEGER PRIMARY KEY, at INTEGER NOT NULL);
    CREATE INDEX IF NOT EXISTS line_at ON line (at);
    PRAGMA user_version = ${schemaVersion};`);
  const addAlarm = database.prepare(
    "INSERT OR IGNORE INTO alarm (id, seq, at, key, change) VALUES (?, ?, ?, ?, ?)",
  );
  const addAct = database.prepare(
    "INSERT OR IGNORE INTO act (id, at, type, refused, act) VALUES (?, ?, ?, ?, ?)",
  );
  // The same fill is told at its begin, its turns and its end: the last word stands. An entry that is run again after a
  // crash tells revision 0 once more, and must not take back what was derived since.
  const putFill = database.prepare(
    `INSERT INTO fill (id, drum, started, fill) VALUES (?, ?, ?, ?)
     ON CONFLICT (id) DO UPDATE SET drum = excluded.drum, started = excluded.started, fill = excluded.fill
     WHERE json_extract(excluded.fill, '$.revision') >= json_extract(fill.fill, '$.revision')`,
  );
  const putWater = database.prepare("INSERT OR REPLACE INTO drum_water (drum, at, water) VALUES (?, ?, ?)");
  const addPresence = database.prepare(
    "INSERT OR IGNORE INTO presence (node, seq, at, presence) VALUES (?, ?, ?, ?)",
  );
  const findPresence = database.prepare(
    "SELECT presence FROM presence WHERE node = ? ORDER BY seq DESC LIMIT 1",
  );
  const addStart = database.prepare("INSERT OR IGNORE INTO start (seq, at) VALUES (?, ?)");
  const addLine = database.prepare("INSERT OR IGNORE INTO line (seq, at, yaml) VALUES (?, ?, ?)");
  const findRejection = database.prepare(
    "SELECT count, last_seq, last_record, examples FROM rejection WHERE code = ? AND node = ?",
  );
  const putRejection = database.prepare(
    "INSERT OR REPLACE INTO rejection (code, node, count, last_seq, last_record, last_at, examples) VALUES (?, ?, ?, ?, ?, ?, ?)",
  );

  const changesOfSeq = database.prepare("SELECT change FROM alarm WHERE seq = ? ORDER BY place");

  function recordRejection(rejection: Rejection): void {
    const node = rejection.node ?? "";
    const known = findRejection.get(rejection.code, node) as
      | { count: number; last_seq: number; last_record: number; examples: string }
      | undefined;
    const record = rejection.record ?? -1;
    // An entry that is run again after a crash was counted already.
    if (
      known &&
      (rejection.seq < known.last_seq || (rejection.seq === known.last_seq && record <= known.last_record))
    )
      return;
    const examples = known ? (JSON.parse(known.examples) as unknown[]) : [];
    examples.unshift({
      atMs: rejection.atMs,
      topic: rejection.topic,
      detail: rejection.detail,
      example: rejection.example,
    });
    putRejection.run(
      rejection.code,
      node,
      (known?.count ?? 0) + 1,
      rejection.seq,
      record,
      rejection.atMs,
      JSON.stringify(examples.slice(0, mostExamples)),
    );
  }

  /** Only what changed: a node says the same at each connection. */
  function recordPresence(presence: NodePresence): void {
    const { node, seq, atMs } = presence;
    const known = findPresence.get(node) as { presence: string } | undefined;
    const said = ({ kind: _, seq: __, atMs: ___, ...rest }: NodePresence) => JSON.stringify(rest);
    if (known && said(JSON.parse(known.presence) as NodePresence) === said(presence)) return;
    addPresence.run(node, seq, atMs, JSON.stringify(presence));
  }

  function recordOne(outcome: LogbookOutcome): void {
    switch (outcome.kind) {
      case "alarm":
        addAlarm.run(
          outcome.id,
          Number.parseInt(outcome.id, 10),
          outcome.atMs,
          outcome.alarm.key,
          JSON.stringify(outcome),
        );
        return;
      case "act-done":
        addAct.run(
          outcome.id,
          outcome.atMs,
          outcome.act.type,
          outcome.refused?.code ?? null,
          JSON.stringify(outcome.act),
        );
        return;
      case "fill":
        putFill.run(outcome.id, outcome.drum, outcome.startedAtMs, JSON.stringify(outcome));
        return;
      case "drum-water":
        putWater.run(outcome.drum, outcome.atMs, JSON.stringify(outcome));
        return;
      case "line":
        addLine.run(outcome.seq, outcome.atMs, outcome.yaml);
        return;
      case "rejection":
        recordRejection(outcome);
        return;
      case "presence":
        recordPresence(outcome);
        return;
      case "start":
        addStart.run(outcome.seq, outcome.atMs);
        return;
    }
  }

  return {
    derivations: createDerivationQueue(database),
    record(outcomes) {
      database.exec("BEGIN");
      try {
        for (const outcome of outcomes) recordOne(outcome);
        database.exec("COMMIT");
      } catch (error) {
        // On a full disk SQLite has rolled back by itself.
        if (database.isTransaction) database.exec("ROLLBACK");
        throw error;
      }
    },
    alarmChanges(limit, before = Number.MAX_SAFE_INTEGER) {
      return database
        .prepare("SELECT place, change FROM alarm WHERE place < ? ORDER BY place DESC LIMIT ?")
        .all(before, limit)
        .map((row) => ({
          place: row.place as number,
          change: JSON.parse(row.change as string) as AlarmChange,
        }));
    },
    alarmChangesAfter(seq, limit) {
      return database
        .prepare("SELECT change FROM alarm WHERE seq > ? ORDER BY place LIMIT ?")
        .all(seq, limit)
        .map((row) => JSON.parse(row.change as string) as AlarmChange);
    },
    acts(limit, before = Number.MAX_SAFE_INTEGER) {
      return database
        .prepare(
          "SELECT rowid AS place, id, at, refused, act FROM act WHERE rowid < ? ORDER BY rowid DESC LIMIT ?",
        )
        .all(before, limit)
        .map((row) => {
          const act = JSON.parse(row.act as string) as Act;
          const seq = Number.parseInt(row.id as string, 10);
          const changes = changesOfSeq
            .all(seq)
            .map(({ change }) => JSON.parse(change as string) as AlarmChange)
            // Deadlines that fell before the entry changed alarms too: those are not the act's.
            .filter(({ by, alarm }) => by === act.by && "key" in act && alarm.key === act.key)
            .map(({ from, to, alarm }) => ({ key: alarm.key, from, to }));
          return {
            place: row.place as number,
            atMs: row.at as number,
            act,
            refused: row.refused as string | null,
            changes,
          };
        });
    },
    fills({ limit, drum = null, beforeMs = Number.MAX_SAFE_INTEGER, fromMs = 0 }) {
      return database
        .prepare(
          "SELECT fill FROM fill WHERE (?1 IS NULL OR drum = ?1) AND started < ?2 AND started >= ?3 ORDER BY started DESC, id DESC LIMIT ?4",
        )
        .all(drum, beforeMs, fromMs, limit)
        .map((row) => JSON.parse(row.fill as string) as Fill);
    },
    fill(id) {
      const row = database.prepare("SELECT fill FROM fill WHERE id = ?").get(id);
      return row ? (JSON.parse(row.fill as string) as Fill) : null;
    },
    rejections() {
      return database
        .prepare("SELECT code, node, count, last_at, examples FROM rejection ORDER BY last_at DESC")
        .all()
        .map((row) => ({
          code: row.code as string,
          node: (row.node as string) || null,
          count: row.count as number,
          lastAtMs: row.last_at as number,
          examples: JSON.parse(row.examples as string),
        }));
    },
    actsOf(type, limit, before = Number.MAX_SAFE_INTEGER) {
      return database
        .prepare(
          "SELECT rowid AS place, at, act FROM act WHERE type = ? AND refused IS NULL AND rowid < ? ORDER BY rowid DESC LIMIT ?",
        )
        .all(type, before, limit)
        .map((row) => ({
          place: row.place as number,
          atMs: row.at as number,
          act: JSON.parse(row.act as string) as Act,
          refused: null,
          changes: [],
        }));
    },
    calibrations() {
      return database
        .prepare("SELECT at, act FROM act WHERE type = 'calibration' AND refused IS NULL ORDER BY at, rowid")
        .all()
        .map((row) => ({ validFromMs: row.at as number, ...(JSON.parse(row.act as string) as Calibration) }));
    },
    lastAlarms() {
      return database
        .prepare("SELECT change, max(place) FROM alarm GROUP BY key ORDER BY max(place)")
        .all()
        .map((row) => JSON.parse(row.change as string) as AlarmChange);
    },
    lastWords(beforeMs = Number.MAX_SAFE_INTEGER) {
      return database
        .prepare("SELECT water, max(at) FROM drum_water WHERE at < ? GROUP BY drum ORDER BY max(at)")
        .all(beforeMs)
        .map((row) => JSON.parse(row.water as string) as DrumWater);
    },
    lastFills(perDrum, beforeMs = Number.MAX_SAFE_INTEGER) {
      return database
        .prepare(
          "SELECT fill FROM (SELECT fill, started, row_number() OVER (PARTITION BY drum ORDER BY started DESC) AS newest FROM fill WHERE started < ?) WHERE newest <= ? ORDER BY started",
        )
        .all(beforeMs, Number.isFinite(perDrum) ? perDrum : Number.MAX_SAFE_INTEGER)
        .map((row) => JSON.parse(row.fill as string) as Fill);
    },
    lastLine(beforeMs = Number.MAX_SAFE_INTEGER) {
      const row = database
        .prepare("SELECT yaml FROM line WHERE at < ? ORDER BY seq DESC LIMIT 1")
        .get(beforeMs);
      return row ? (row.yaml as string) : null;
    },
    lastPresences(beforeMs = Number.MAX_SAFE_INTEGER) {
      return database
        .prepare("SELECT presence, max(seq) FROM presence WHERE at < ? GROUP BY node")
        .all(beforeMs)
        .map((row) => JSON.parse(row.presence as string) as NodePresence);
    },
    pastEvents(fromMs, toMs) {
      return database
        .prepare(
          `SELECT 'act' AS kind, CAST(id AS INTEGER) AS seq, coalesce(json_extract(act, '$.validFromMs'), at) AS from_at, act AS what FROM act WHERE refused IS NULL
           UNION ALL SELECT 'line', seq, at, yaml FROM line
           UNION ALL SELECT 'start', seq, at, NULL FROM start
           UNION ALL SELECT 'presence', seq, at, presence FROM presence
           ORDER BY from_at, seq`,
        )
        .all()
        .filter(({ from_at: atMs }) => (atMs as number) >= fromMs && (atMs as number) < toMs)
        .map((row) => ({
          kind: row.kind as PastEvent["kind"],
          seq: row.seq as number,
          atMs: row.from_at as number,
          what: row.kind === "line" || row.what === null ? row.what : JSON.parse(row.what as string),
        }));
    },
    replaceWords(fromMs, toMs, words) {
      database.exec("BEGIN");
      try {
        for (const drum of new Set(words.map(({ drum }) => drum)))
          database
            .prepare("DELETE FROM drum_water WHERE drum = ? AND at >= ? AND at < ?")
            .run(drum, fromMs, toMs);
        for (const word of words) putWater.run(word.drum, word.atMs, JSON.stringify(word));
        database.exec("COMMIT");
      } catch (error) {
        if (database.isTransaction) database.exec("ROLLBACK");
        throw error;
      }
    },
    close: () => database.close(),
  };
}
