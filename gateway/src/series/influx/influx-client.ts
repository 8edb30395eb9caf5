import { InfluxDB, type WriteApi } from "@influxdata/influxdb-client";
import { outcomeOf, outcomeOfQuery } from "./influx-outcome.ts";
import type { InfluxSignIn, InfluxTarget } from "./influx-target.ts";

/** One table of an answer: columns with their rows. */
export interface InfluxTable {
  readonly name: string;
  readonly columns: readonly string[];
  readonly values: readonly (readonly (number | string | null)[])[];
}

/** A server through its 1.x interface, `/write` and `/query`, which 2.x and 3.x have too. Calls reject with InfluxError. */
export interface InfluxClient {
  /** Resolves when all lines are stored. A rejection does not mean that none of them is. */
  write(lines: readonly string[]): Promise<void>;
  /** Asks one InfluxQL statement; times come as epoch ms. */
  query(statement: string): Promise<readonly InfluxTable[]>;
}

/** Lines of one request at most. */
export const maxLines = 5000;
const answersWithinMs = 10_000;

function headersOf(signIn: InfluxSignIn): Record<string, string> {
  if (signIn.kind !== "password") return {};
  const credentials = Buffer.from(`${signIn.user}:${signIn.password}`).toString("base64");
  return { authorization: `Basic ${credentials}` };
}

interface QueryAnswer {
  readonly error?: string;
  readonly results?: readonly { readonly error?: string; readonly series?: readonly InfluxTable[] }[];
}

/** Whether a server's address is one of this machine: nothing is gained there by sending less. */
export function isOnThisMachine(url: string): boolean {
  const { hostname } = new URL(url);
  return hostname === "localhost" || hostname === "[::1]" || /^127(\.\d+){3}$/.test(hostname);
}

/** Speaks to a server by its own client library, whose retries and timers are off: the log of batches is the memory. */
export function influxClient(target: InfluxTarget, timeoutMs = answersWithinMs): InfluxClient {
  const { url, database, retentionPolicy, signIn, ca } = target;
  const headers = headersOf(signIn);
  const client = new InfluxDB({
    url,
    timeout: timeoutMs,
    headers,
    ...(signIn.kind === "token" ? { token: signIn.token } : {}),
    ...(ca === undefined ? {} : { transportOptions: { ca } }),
  });
  const where = new URLSearchParams({ db: database, ...(retentionPolicy ? { rp: retentionPolicy } : {}) });
  const writer: WriteApi = client.getWriteApi("", database, "ms", {
    batchSize: maxLines + 1,
    flushInterval: 0,
    maxRetries: 0,
    ...(isOnThisMachine(url) ? { gzipThreshold: Number.POSITIVE_INFINITY } : {}),
    // What it gives back is the result of the call, and nothing is printed.
    writeFailed: (error) => Promise.reject(outcomeOf(error)),
  });
  writer.path = `/write?${where}&precision=ms`;
  return {
    async write(lines) {
      for (let from = 0; from < lines.length; from += maxLines) {
        writer.writeRecords(lines.slice(from, from + maxLines));
        await writer.flush();
      }
    },
    async query(statement) {
      const asked = new URLSearchParams({ q: statement, epoch: "ms" });
      let answer: QueryAnswer;
      try {
        answer = (await client.transport.request(`/query?${where}&${asked}`, "", {
          method: "GET",
          headers: { accept: "application/json", ...headers },
        })) as QueryAnswer;
      } catch (error) {
        throw outcomeOf(error);
      }
      const fault = answer.error ?? answer.results?.find(({ error }) => error !== undefined)?.error;
      if (fault !== undefined) throw outcomeOfQuery(fault);
      return answer.results?.flatMap(({ series }) => series ?? []) ?? [];
    },
  };
}
