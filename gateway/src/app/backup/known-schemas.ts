import { closeSync, openSync, readSync } from "node:fs";
import { accountsSchema } from "../../accounts/index.ts";
import { checkpointSchema, journalSchema } from "../../journal/index.ts";
import { logbookSchema } from "../../logbook/index.ts";
import { messagesSchema } from "../../notifications/index.ts";
import { seriesSchema } from "../../series/index.ts";

/** The newest schema that this version knows of a file of the data folder; null for one that has none. */
function knownSchemaOf(name: string): number | null {
  if (/^journal-\d{12}\.sqlite$/.test(name)) return journalSchema;
  const known: Readonly<Record<string, number>> = {
    "checkpoint.state": checkpointSchema,
    "notifications.sqlite": messagesSchema,
    "series-1.sqlite": 1,
    "series.sqlite": seriesSchema,
    "logbook.sqlite": logbookSchema,
    "accounts.sqlite": accountsSchema,
  };
  return known[name] ?? null;
}

const magic = "SQLite format 3\0";
const headerBytes = 100;
/** Where `user_version` stands in a file's header, big-endian: https://www.sqlite.org/fileformat.html#the_database_header. */
const versionAt = 60;
/** A number that no version will reach is what a damaged page says. */
const leastDamaged = 10_000;

/** The schema of a file as its header says it, without opening it; null where it says none. */
function schemaIn(path: string): number | null {
  const header = Buffer.alloc(headerBytes);
  const file = openSync(path, "r");
  try {
    readSync(file, header, 0, headerBytes, 0);
  } finally {
    closeSync(file);
  }
  if (header.toString("latin1", 0, magic.length) !== magic) return null;
  const schema = header.readUInt32BE(versionAt);
  return schema < leastDamaged ? schema : null;
}

/** Throws in plain words where a newer version wrote a file of a backup: a start here would put it aside and begin an empty one. */
export function requireKnownSchema(path: string, name: string): void {
  const known = knownSchemaOf(name);
  const schema = known === null ? null : schemaIn(path);
  if (known === null || schema === null || schema <= known) return;
  throw new Error(
    `${path} was written by a newer Drumlin (schema ${schema}; this one knows ${known}): nothing was put back. Restore it with that version.`,
  );
}
