import { createHash, randomBytes } from "node:crypto";
import { mkdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { z } from "zod";
import type { Line, MailServer, Notify } from "../line/index.ts";

/** A secret that the line names, and where it would go. */
interface SecretUse {
  readonly secret: string;
  readonly host: string;
}

/** A secret as it was given: what tells this giving from every other one. */
export interface Giving {
  readonly value: string;
  /** When its file was written; null where it stands in the environment. */
  readonly atMs: number | null;
}

const fileName = ".hosts.json";
const keptSchema = z.record(
  z.string(),
  z.strictObject({ host: z.string(), salt: z.string(), mark: z.string() }),
);
type Kept = z.infer<typeof keptSchema>[string];

/** Where a mail server's password goes: to the server, and whether the way there is safe. */
export const hostOfMail = ({ server, security }: Pick<MailServer, "server" | "security">): string =>
  security === "none" ? `${server} without TLS` : server;

/** Where what stands in an address or its headers goes. */
export const hostOfUrl = (url: string): string => new URL(url).origin;

const namedIn = (text: string): string[] =>
  [...text.matchAll(/\{secret:([a-z0-9-]+)\}/g)].map((match) => match[1] as string);

/** Every secret that `notify` names, in its order. */
function usesOf({ mail, destinations, heartbeat }: Notify): readonly SecretUse[] {
  const uses: SecretUse[] = [];
  const add = (host: string, texts: readonly string[]) => {
    for (const secret of texts.flatMap(namedIn)) uses.push({ secret, host });
  };
  if (mail && mail.user !== null) uses.push({ secret: "smtp-password", host: hostOfMail(mail) });
  for (const { way } of destinations)
    if (way.kind === "webhook")
      add(hostOfUrl(way.webhook.url), [way.webhook.url, ...way.webhook.headers.values()]);
  if (heartbeat && heartbeat.get !== null) add(hostOfUrl(heartbeat.get), [heartbeat.get]);
  return uses;
}

const markOf = (salt: string, { value, atMs }: Giving): string =>
  createHash("sha256").update(`${salt} ${atMs} ${value}`).digest("hex");

function readKept(path: string): Map<string, Kept> {
  try {
    return new Map(Object.entries(keptSchema.parse(JSON.parse(readFileSync(path, "utf8")))));
  } catch {
    return new Map();
  }
}

/**
 * Remembers for which host each secret was given, so that whoever may change the line can't have it sent to another: the one
 * that the line named when the gateway first saw the secret. It is given again by writing its file anew.
 */
export class SecretHosts {
  private readonly path: string;
  private readonly giving: (secret: string) => Giving | null;
  private readonly line: () => Line | null;
  private readonly kept: Map<string, Kept>;
  private settled: Line | null = null;

  /** `giving` says what a secret is now, null where there is none; `line` which line is in force. */
  constructor(
    folder: string,
    {
      giving,
      line,
    }: { readonly giving: (secret: string) => Giving | null; readonly line: () => Line | null },
  ) {
    this.path = join(folder, fileName);
    this.giving = giving;
    this.line = line;
    this.kept = readKept(this.path);
  }

  /** What was given before the line changed was given for what the line named then. */
  look(): void {
    const line = this.line();
    if (line === null || line === this.settled) return;
    for (const { secret, host } of usesOf((this.settled ?? line).notify)) {
      const giving = this.giving(secret);
      if (giving) this.givenFor(secret, giving, host);
    }
    this.settled = line;
  }

  /** For which host a secret was given; one that is new was given for `host`. */
  givenFor(secret: string, giving: Giving, host: string): string {
    const known = this.kept.get(secret);
    if (known && known.mark === markOf(known.salt, giving)) return known.host;
    const salt = randomBytes(16).toString("hex");
    this.kept.set(secret, { host, salt, mark: markOf(salt, giving) });
    this.keep();
    return host;
  }

  /** A disk that does not take it: it holds until the next start. */
  private keep(): void {
    try {
      mkdirSync(join(this.path, ".."), { recursive: true, mode: 0o700 });
      writeFileSync(`${this.path}.new`, JSON.stringify(Object.fromEntries(this.kept)), { mode: 0o600 });
      renameSync(`${this.path}.new`, this.path);
    } catch {}
  }
}
