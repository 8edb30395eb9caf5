import { readFile } from "node:fs/promises";
import { type InfluxSignIn, type InfluxTarget, influxTarget } from "../series/index.ts";
import { type readOptions, UsageError } from "./options.ts";
import { secretOf } from "./secret-file.ts";

/** Options of the command line that tell of InfluxDB; secrets stand in files or in the environment, never on the line. */
export const influxOptions = {
  influx: "text",
  "influx-user": "text",
  "influx-token-file": "text",
  "influx-password-file": "text",
  "influx-ca": "text",
} as const;

/** What help says of them. */
export const influxHelp = `  --influx URL       sends what is measured on to InfluxDB 1.x, 2.x or 3.x: http://HOST:8086/DATABASE (2.x: the bucket)
  --influx-token-file FILE     its token (2.x, 3.x), or DRUMLIN_INFLUX_TOKEN
  --influx-user NAME, --influx-password-file FILE   name and password (1.x), or DRUMLIN_INFLUX_USER, DRUMLIN_INFLUX_PASSWORD
  --influx-ca FILE   certificate authority of that server (PEM)`;

type Options = ReturnType<typeof readOptions>;
type Environment = Readonly<Record<string, string | undefined>>;

async function signInOf(options: Options, environment: Environment): Promise<InfluxSignIn> {
  const token = await secretOf(options, "influx-token", environment);
  const password = await secretOf(options, "influx-password", environment);
  const user = options.text("influx-user");
  if (token !== null && password !== null)
    throw new UsageError("give a token or a password for InfluxDB, not both.");
  if (token !== null) return { kind: "token", token };
  if (user === undefined && password === null) return { kind: "none" };
  if (user === undefined || password === null)
    throw new UsageError("InfluxDB's name and password go together: one of them is missing.");
  return { kind: "password", user, password };
}

/** The database of `--influx`; null where none is asked for. Throws UsageError. */
export async function readInflux(
  options: Options,
  environment: Environment = process.env,
): Promise<InfluxTarget | null> {
  const text = options.text("influx");
  if (text === undefined) return null;
  const ca = options.text("influx-ca");
  try {
    return influxTarget(
      text,
      await signInOf(options, environment),
      ca === undefined ? undefined : await readFile(ca, "utf8"),
    );
  } catch (error) {
    if (error instanceof UsageError) throw error;
    throw new UsageError(`--influx: ${error instanceof Error ? error.message : String(error)}`);
  }
}
