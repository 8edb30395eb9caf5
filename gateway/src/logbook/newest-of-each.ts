import type { DatabaseSync } from "node:sqlite";
import type { Row } from "./define-record.ts";

/** SQL of `named (name)`: every `group` of a table, found by steps through an index that begins with it. */
function named(table: string, group: string): string {
  return `WITH RECURSIVE named (name) AS (
    SELECT min(${group}) FROM ${table}
    UNION ALL SELECT (SELECT min(${group}) FROM ${table} WHERE ${group} > name) FROM named WHERE name IS NOT NULL)`;
}

/** Every `group` of a table, without reading every row. */
export function groupsOf(database: DatabaseSync, table: string, group: string): readonly string[] {
  return database
    .prepare(`${named(table, group)} SELECT name FROM named WHERE name IS NOT NULL`)
    .all()
    .map(({ name }) => name as string);
}

/**
 * The newest row of each `group` from before a time, without reading the others.
 */
export function lastOfEach(
  database: DatabaseSync,
  asked: {
    readonly table: string;
    readonly group: string;
    readonly order: string;
    readonly time: string;
    readonly column: string;
    readonly beforeMs?: number | undefined;
  },
): readonly Row[] {
  const { table, group, order, time, column, beforeMs = Number.MAX_SAFE_INTEGER } = asked;
  const newest = (what: string) =>
    `(SELECT ${what} FROM ${table} WHERE ${group} = name AND ${time} < :before ORDER BY ${order} DESC LIMIT 1)`;
  return database
    .prepare(
      `${named(table, group)}
       SELECT ${newest(order)} AS place, ${newest(column)} AS ${column} FROM named WHERE name IS NOT NULL ORDER BY place`,
    )
    .all({ before: beforeMs })
    .filter((row) => row.place !== null);
}
