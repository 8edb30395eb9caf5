import type { AccountsDatabase } from "./accounts-database.ts";
import { keyOf } from "./name-key.ts";
import { quickHash, randomSecret } from "./secrets.ts";

const maxOfPerson = 20;

/** Devices on which people have signed in: 256 random bits in a cookie, their SHA-256 in the file. They let nobody in. */
export interface Devices {
  /** A new device's secret; the person's oldest one goes when there are more than 20. */
  begin(person: string): string;
  /** Key of the person who signed in on it; null when it is unknown. */
  personOf(secret: string): string | null;
}

/** Devices of an accounts file. */
export function openDevices({ database, note }: AccountsDatabase, now: () => number): Devices {
  const find = database.prepare("SELECT person FROM device WHERE hash = ?");
  const add = database.prepare("INSERT INTO device (hash, person, made_at) VALUES (?, ?, ?)");
  const trim = database.prepare(
    "DELETE FROM device WHERE person = ?1 AND hash NOT IN (SELECT hash FROM device WHERE person = ?1 ORDER BY made_at DESC, rowid DESC LIMIT ?2)",
  );
  return {
    begin(person) {
      const secret = randomSecret(32);
      note(() => {
        add.run(quickHash(secret), keyOf(person), now());
        trim.run(keyOf(person), maxOfPerson);
      });
      return secret;
    },
    personOf: (secret) => (find.get(quickHash(secret))?.person as string | undefined) ?? null,
  };
}
