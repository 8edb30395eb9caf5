import type { HttpError } from "@influxdata/influxdb-client";

/** Everything that can go wrong with InfluxDB, by its code. `waits`: nothing is lost, it is tried again. */
export const influxOutcomes = {
  "influx-unreachable": {
    waits: true,
    title: "InfluxDB can't be reached, or can't store now",
    todo: "Look whether it runs and has room on its disk, and at the address and the network. What is owed is sent once it answers.",
  },
  "influx-unauthorised": {
    waits: true,
    title: "InfluxDB does not take the sign-in",
    todo: "Look at the token, or at name and password, and whether they may read and write this database.",
  },
  "influx-no-database": {
    waits: true,
    title: "InfluxDB has no such database",
    todo: "Make it: 1.x CREATE DATABASE, 2.x a bucket of that name, 3.x influxdb3 create database. What it lost is sent again by drumlin export --to influx.",
  },
  "influx-type-conflict": {
    waits: false,
    title: "InfluxDB holds a field of another type",
    todo: "Another program wrote v or q into this measurement as another type. Give the gateway a database of its own, then send the stretch again: drumlin export --to influx.",
  },
  "influx-outside-retention": {
    waits: false,
    title: "Points are older than InfluxDB keeps",
    todo: "They stay in the gateway's own store. Let the retention policy keep longer, then send the stretch again.",
  },
  "influx-too-large": {
    waits: false,
    title: "A point is too large for InfluxDB",
    todo: "Raise the server's limit for a request body, then send the stretch again.",
  },
  "influx-partial-write": {
    waits: false,
    title: "InfluxDB refused some points",
    todo: "Look at what it said. The points stay in the gateway's own store.",
  },
} as const;

/** Why InfluxDB did not take something. */
export type InfluxCode = keyof typeof influxOutcomes;

/** A call of InfluxDB that failed, by name. */
export class InfluxError extends Error {
  readonly code: InfluxCode;
  /** What the server said, or the system where nobody answered; never holds a secret. */
  readonly said: string;
  /** Points of the request that were not stored, where it tells. */
  readonly dropped: number | null;
  /** The lines that were not stored, from 0, where it tells them. */
  readonly refusedLines: readonly number[] | null;
  /** Whether what was to be written may be stored all the same, now or later: nobody has said that it was not. */
  readonly mayBeStored: boolean;
  constructor(
    code: InfluxCode,
    said: string,
    refused: Partial<Pick<InfluxError, "dropped" | "refusedLines" | "mayBeStored">> = {},
  ) {
    super(`${influxOutcomes[code].title}: ${said}`);
    this.name = "InfluxError";
    this.code = code;
    this.said = said;
    this.dropped = refused.dropped ?? null;
    this.refusedLines = refused.refusedLines ?? null;
    this.mayBeStored = refused.mayBeStored ?? code === "influx-unreachable";
  }
}

const maxSaid = 300;
/** The system's words for a connection that never came about: nothing was sent on it. */
const neverConnected = ["ECONNREFUSED", "ENOTFOUND", "EAI_AGAIN", "EHOSTUNREACH", "ENETUNREACH"];
const noDatabase =
  /database not found|no dbrp mapping|bucket .*not found|not find bucket|database .*(not|n't) (found|exist)/i;
const conflict = /field type conflict|type conflict|invalid column type|invalid field value .* type/i;
const outside = /(beyond|outside) retention/i;

/** 3.x names the lines of a request that it did not take: `{ data: [{ line_number, error_message }] }`, from 1. */
function refusedLinesOf(json: unknown): readonly number[] | null {
  const data = (json as { readonly data?: unknown } | undefined)?.data;
  if (!Array.isArray(data)) return null;
  const lines = data.map((one: { readonly line_number?: unknown }) => Number(one.line_number) - 1);
  return lines.length > 0 && lines.every((line) => Number.isInteger(line) && line >= 0) ? lines : null;
}

function saidBy({ body, json, message }: HttpError): string {
  const own = json as { readonly error?: unknown; readonly message?: unknown } | undefined;
  const said = [own?.error, own?.message].find((text) => typeof text === "string") ?? body ?? message;
  return String(said).slice(0, maxSaid);
}

/** What a text of the server means; `otherwise` where it is none of the known ones. */
function codeOfText(text: string, otherwise: InfluxCode): InfluxCode {
  if (noDatabase.test(text)) return "influx-no-database";
  if (conflict.test(text)) return "influx-type-conflict";
  return outside.test(text) ? "influx-outside-retention" : otherwise;
}

/** `isTold`: the answer is a server's own, and not the page of something between. Only such a one refuses points for good. */
function codeOfStatus(status: number, text: string, isTold: boolean): InfluxCode {
  if (status === 401 || status === 403) return "influx-unauthorised";
  if (status === 404) return "influx-no-database";
  if (status === 413) return "influx-too-large";
  const isRefusal = isTold && (status === 400 || status === 422);
  return isRefusal ? codeOfText(text, "influx-partial-write") : "influx-unreachable";
}

/** An answer's error as its outcome. */
function outcomeOfHttp(error: HttpError): InfluxError {
  const said = saidBy(error);
  // A body of the server of any kind may tell more than its first words.
  const text = `${said} ${(error.body ?? "").slice(0, 2000)}`;
  const dropped = /dropped=(\d+)/.exec(text)?.[1];
  return new InfluxError(codeOfStatus(error.statusCode, text, error.json !== undefined), said, {
    dropped: dropped === undefined ? null : Number(dropped),
    refusedLines: refusedLinesOf(error.json),
  });
}

/** An error of a query that was answered with 200, as 1.x does. */
export function outcomeOfQuery(text: string): InfluxError {
  const said = text.slice(0, maxSaid);
  const isRights = /not authorized|unauthorized|authorization failed|permission/i.test(text);
  return new InfluxError(isRights ? "influx-unauthorised" : codeOfText(text, "influx-unreachable"), said);
}

/** By its shape: the library is not read for those who send nowhere, and may be there twice. */
function isHttpError(error: unknown): error is HttpError {
  return error instanceof Error && typeof (error as Partial<HttpError>).statusCode === "number";
}

/** Any error of a call as its outcome; what is no answer of the server means that it was not reached. */
export function outcomeOf(error: unknown): InfluxError {
  if (error instanceof InfluxError) return error;
  if (isHttpError(error)) return outcomeOfHttp(error);
  const { code, message } = error as { readonly code?: string; readonly message?: string };
  const said = [code, message].filter(Boolean).join(": ").slice(0, maxSaid);
  return new InfluxError("influx-unreachable", said, { mayBeStored: !neverConnected.includes(code ?? "") });
}
