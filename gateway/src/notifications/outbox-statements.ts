import type { DatabaseSync } from "node:sqlite";

/** What is asked of the outbox's file. */
export function statementsOf(database: DatabaseSync) {
  const prepare = (sql: string) => database.prepare(sql);
  return {
    cursor: prepare("SELECT seq FROM cursor"),
    setCursor: prepare(
      "INSERT INTO cursor VALUES (1, :seq) ON CONFLICT (one) DO UPDATE SET seq = excluded.seq",
    ),
    calls: prepare("SELECT call FROM call ORDER BY at, id"),
    putCall: prepare(
      "INSERT INTO call VALUES (?, ?, ?, ?) ON CONFLICT (id) DO UPDATE SET call = excluded.call",
    ),
    dropCall: prepare("DELETE FROM call WHERE id = ?"),
    dropTold: prepare("DELETE FROM told WHERE call = ?"),
    told: prepare(
      "SELECT told.destination, told.call, told.step, told.number, told.message AS id, message.state, message.made, message.settled FROM told JOIN message ON message.id = told.message ORDER BY message.place",
    ),
    putTold: prepare(
      `INSERT INTO told VALUES (?, ?, ?, ?, ?)
       ON CONFLICT DO UPDATE SET number = excluded.number, message = excluded.message`,
    ),
    messages: prepare("SELECT * FROM message ORDER BY place"),
    waiting: prepare(
      "SELECT id, made, next, tries, wakes, list FROM message WHERE destination = ? AND state = 'waiting' ORDER BY place",
    ),
    message: prepare("SELECT * FROM message WHERE id = ?"),
    grow: prepare("UPDATE message SET entries = ?, wakes = ?, title = ? WHERE id = ?"),
    moveTold: prepare("UPDATE told SET message = ? WHERE destination = ? AND message = ?"),
    dropMessage: prepare("DELETE FROM message WHERE id = ?"),
    countWaiting: prepare("SELECT count(*) AS n FROM message WHERE destination = ? AND state = 'waiting'"),
    waitingDestinations: prepare("SELECT DISTINCT destination FROM message WHERE state = 'waiting'"),
    putMessage: prepare(
      `INSERT INTO message VALUES (:id, (SELECT 1 + ifnull(max(place), 0) FROM message), :destination, :made, :wakes,
         :list, :entries, 'waiting', 0, :made, NULL, :title, NULL)`,
    ),
    settle: prepare("UPDATE message SET state = ?, tries = ?, next = ?, settled = ?, error = ? WHERE id = ?"),
    prune: prepare(
      "DELETE FROM message WHERE state <> 'waiting' AND made < ? AND id NOT IN (SELECT message FROM told)",
    ),
    listed: prepare("SELECT * FROM message WHERE made >= ? ORDER BY place DESC LIMIT ?"),
    since: prepare("SELECT since FROM destination WHERE id = ?"),
    begin: prepare("INSERT OR IGNORE INTO destination VALUES (?, ?)"),
  };
}
