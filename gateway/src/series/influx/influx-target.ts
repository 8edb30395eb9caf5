/** How the gateway signs in: a token (2.x, 3.x), a name with a password (1.x, and 2.x with such users), or not at all. */
export type InfluxSignIn =
  | { readonly kind: "none" }
  | { readonly kind: "token"; readonly token: string }
  | { readonly kind: "password"; readonly user: string; readonly password: string };

/** A database of an InfluxDB server; in 2.x the bucket of that name, in 3.x the database. */
export interface InfluxTarget {
  /** Scheme, host and port, without a name or password. */
  readonly url: string;
  readonly database: string;
  /** Null for the database's own. */
  readonly retentionPolicy: string | null;
  readonly signIn: InfluxSignIn;
  /** A certificate authority of the own house, PEM. */
  readonly ca?: string;
}

const usualDatabase = "drumlin";

/**
 * Reads `http://HOST:8086/DATABASE[/RETENTION-POLICY]`; the database is `drumlin` where none is named. Throws with a plain
 * sentence; what is in the address is not repeated where it holds a password.
 */
export function influxTarget(text: string, signIn: InfluxSignIn, ca?: string): InfluxTarget {
  const url = URL.parse(text);
  if (url?.username || url?.password)
    throw new Error(
      "write no name or password into the address, where other users of the machine can read them: give them as DRUMLIN_INFLUX_USER and DRUMLIN_INFLUX_PASSWORD, or DRUMLIN_INFLUX_TOKEN.",
    );
  const parts = url?.pathname.split("/").filter((part) => part !== "") ?? [];
  if (!url || !/^https?:$/.test(url.protocol) || url.search || url.hash || parts.length > 2)
    throw new Error(`${text}: write http://HOST:8086/DATABASE or https://HOST:8086/DATABASE.`);
  const [database = usualDatabase, retentionPolicy = null] = parts.map(decodeURIComponent);
  return { url: url.origin, database, retentionPolicy, signIn, ...(ca === undefined ? {} : { ca }) };
}
