import type { Migration } from "../database/index.ts";

/** The schema of `notifications.sqlite`, from version to version. */
export const migrations: readonly Migration[] = [
  `CREATE TABLE cursor (one INTEGER PRIMARY KEY CHECK (one = 1), seq INTEGER NOT NULL);
   CREATE TABLE call (id TEXT PRIMARY KEY, key TEXT NOT NULL, at INTEGER NOT NULL, call TEXT NOT NULL);
   CREATE TABLE destination (id TEXT PRIMARY KEY, since INTEGER NOT NULL);
   CREATE TABLE message (
     id TEXT PRIMARY KEY, place INTEGER NOT NULL UNIQUE, destination TEXT NOT NULL, made INTEGER NOT NULL, wakes INTEGER NOT NULL,
     list TEXT, entries TEXT NOT NULL, state TEXT NOT NULL, tries INTEGER NOT NULL, next INTEGER NOT NULL,
     settled INTEGER, title TEXT NOT NULL, error TEXT);
   CREATE INDEX message_waiting ON message (destination, place) WHERE state = 'waiting';
   CREATE INDEX message_made ON message (destination, made);
   CREATE TABLE told (
     destination TEXT NOT NULL, call TEXT NOT NULL, step TEXT NOT NULL, number INTEGER NOT NULL, message TEXT NOT NULL,
     PRIMARY KEY (destination, call, step)) WITHOUT ROWID;
   CREATE TABLE subscription (
     id TEXT PRIMARY KEY, endpoint TEXT NOT NULL UNIQUE, p256dh TEXT NOT NULL, auth TEXT NOT NULL, who TEXT NOT NULL,
     takes TEXT NOT NULL, title TEXT NOT NULL, made INTEGER NOT NULL);
   CREATE TABLE link (
     hash TEXT PRIMARY KEY, who TEXT NOT NULL, key TEXT NOT NULL, occurrence TEXT NOT NULL, until INTEGER NOT NULL,
     used INTEGER);
   CREATE TABLE beat (id TEXT PRIMARY KEY, at INTEGER NOT NULL);`,
  `CREATE TABLE standing (
     id TEXT PRIMARY KEY, sent_at INTEGER, failed_at INTEGER, failed_in_row INTEGER NOT NULL, error TEXT,
     sent INTEGER NOT NULL, dropped INTEGER NOT NULL);
   ALTER TABLE subscription ADD COLUMN language TEXT NOT NULL DEFAULT 'en';
   ALTER TABLE subscription ADD COLUMN quiet TEXT;`,
];
/** The newest schema of `notifications.sqlite` that is known here. */
export const messagesSchema = migrations.length;
