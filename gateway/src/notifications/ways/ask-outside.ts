import { lookup as lookUp } from "node:dns";
import { request as tlsRequest } from "node:https";
import { isIP, type LookupFunction } from "node:net";
import { isPrivateAddress } from "./private-address.ts";

// An import of it would load Node's web client too.
const { request: plainRequest } = process.getBuiltinModule("node:http");

/** Why nobody could be asked, in plain words; it names no secret, and no more of an address than its host. */
export class OutsideError extends Error {
  constructor(message: string) {
    super(message);
    this.name = "OutsideError";
  }
}

const withinMs = 15_000;
/** More of an answer is not read. */
const maxAnswerBytes = 2048;

/** What is asked of somebody outside. */
export interface OutsideRequest {
  readonly url: string;
  readonly method: "GET" | "POST";
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: Buffer | string;
  /** Addresses of the own machine and network are meant on purpose. */
  readonly allowPrivate: boolean;
  /** A certificate authority of the own house, PEM. */
  readonly ca?: string;
  readonly withinMs?: number;
}

/** What a server outside answered, or that it did not. */
export interface OutsideAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  /** Its beginning. */
  readonly body: string;
}

const refused = (host: string): OutsideError =>
  new OutsideError(
    `${host} is an address of this machine or network: that is refused unless allow_private says so.`,
  );

/** Looks a name up once, and gives only what may be connected to: what was checked is what is used. */
function checkedLookup(host: string, resolve: typeof lookUp): LookupFunction {
  return (name, options, done) => {
    resolve(name, { ...options, all: true }, (error, addresses) => {
      if (error) return done(error, "");
      if (addresses.length === 0 || addresses.some(({ address }) => isPrivateAddress(address)))
        return done(refused(host), "");
      if (options.all) return done(null, addresses);
      const [{ address, family }] = addresses as [{ address: string; family: number }];
      done(null, address, family);
    });
  };
}

function plainWhy(error: Error & { code?: string }, host: string): OutsideError {
  if (error instanceof OutsideError) return error;
  const { code = "" } = error;
  if (error.name === "TimeoutError" || error.name === "AbortError" || code === "ABORT_ERR")
    return new OutsideError(`${host} did not answer in time.`);
  if (code === "ENOTFOUND" || code === "EAI_AGAIN")
    return new OutsideError(`The name ${host} leads nowhere.`);
  if (code === "ECONNREFUSED") return new OutsideError(`Nobody listens at ${host}.`);
  if (/CERT|SIGNATURE|ALTNAME|SSL|TLS/.test(code))
    return new OutsideError(`The certificate of ${host} can't be trusted (${code}).`);
  return new OutsideError(`${host} broke off${code === "" ? "" : ` (${code})`}.`);
}

/**
 * Asks somebody outside, once: no redirect is followed, no cookie kept, no proxy used. The address is checked after the
 * name was looked up, and the connection goes to that very address. Rejects with OutsideError.
 */
export async function askOutside(
  { url, method, headers, body, allowPrivate, ca, withinMs: within = withinMs }: OutsideRequest,
  resolve: typeof lookUp = lookUp,
): Promise<OutsideAnswer> {
  const target = new URL(url);
  const host = target.hostname;
  if (target.protocol !== "https:" && target.protocol !== "http:")
    throw new OutsideError(`${target.protocol} is no way to reach anybody.`);
  if (target.username !== "" || target.password !== "")
    throw new OutsideError("A password does not belong into an address: name a secret in a header.");
  const bare = host.replace(/^\[|\]$/g, "");
  if (!allowPrivate && isIP(bare) !== 0 && isPrivateAddress(bare)) throw refused(host);
  const { promise, resolve: answer, reject } = Promise.withResolvers<OutsideAnswer>();
  const asking = (target.protocol === "https:" ? tlsRequest : plainRequest)(target, {
    method,
    headers: { ...headers, ...(body === undefined ? {} : { "content-length": Buffer.byteLength(body) }) },
    agent: false,
    signal: AbortSignal.timeout(within),
    maxHeaderSize: 16_384,
    ...(allowPrivate ? {} : { lookup: checkedLookup(host, resolve) }),
    ...(ca === undefined ? {} : { ca }),
  });
  asking.on("error", reject);
  asking.on("response", (response) => {
    const parts: Buffer[] = [];
    let bytes = 0;
    const done = () =>
      answer({
        status: response.statusCode ?? 0,
        headers: response.headers,
        body: Buffer.concat(parts).subarray(0, maxAnswerBytes).toString("utf8"),
      });
    response.on("data", (part: Buffer) => {
      parts.push(part);
      bytes += part.length;
      if (bytes < maxAnswerBytes) return;
      done();
      response.destroy();
    });
    response.on("end", done);
    response.on("error", reject);
  });
  asking.end(body);
  try {
    return await promise;
  } catch (error) {
    throw plainWhy(error as Error, host);
  } finally {
    asking.destroy();
  }
}

const maxAfterMs = 3_600_000;

/** How long the other side asks to be left alone, ms (RFC 9110 §10.2.3), an hour at most; undefined where it does not. */
export function retryAfterMs({ headers }: OutsideAnswer, nowMs: number): number | undefined {
  const given = headers["retry-after"];
  if (typeof given !== "string") return undefined;
  const ms = /^\d{1,6}$/.test(given.trim()) ? Number(given) * 1000 : Date.parse(given) - nowMs;
  return Number.isFinite(ms) && ms > 0 ? Math.min(maxAfterMs, ms) : undefined;
}
