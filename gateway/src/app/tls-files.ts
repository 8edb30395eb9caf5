import { X509Certificate } from "node:crypto";
import { readFile, stat } from "node:fs/promises";
import { createSecureContext } from "node:tls";
import type { TlsFiles } from "../http/index.ts";
import { UsageError } from "./options.ts";

/** Where a certificate (with its chain) and its key lie, PEM. */
export interface TlsPaths {
  readonly cert: string;
  readonly key: string;
}

/** The paths of two options; null when neither is given. Throws UsageError when one is missing. */
export function tlsPaths(cert: string | undefined, key: string | undefined, option: string): TlsPaths | null {
  if (cert === undefined && key === undefined) return null;
  if (cert === undefined || key === undefined)
    throw new UsageError(`--${option}-cert and --${option}-key go together.`);
  return { cert, key };
}

/** Reads the files. Throws, naming the file, when one can't be read or the two don't belong together. */
export async function readTls({ cert, key }: TlsPaths): Promise<TlsFiles> {
  const files = { cert: await readFile(cert, "utf8"), key: await readFile(key, "utf8") };
  try {
    createSecureContext(files);
  } catch (error) {
    throw new Error(`${cert} and ${key} are no certificate and its key: ${(error as Error).message}`);
  }
  return files;
}

const dayMs = 86_400_000;
const soonMs = 14 * dayMs;

/** What is wrong with files that can be used all the same: a date, a key that others can read. */
export async function tlsWarnings(paths: TlsPaths, nowMs: number): Promise<readonly string[]> {
  const { validFromDate, validToDate } = new X509Certificate(await readFile(paths.cert));
  const day = (date: Date) => date.toISOString().slice(0, 10);
  const warnings: string[] = [];
  if (validToDate.getTime() <= nowMs)
    warnings.push(`${paths.cert} expired on ${day(validToDate)}: browsers and nodes refuse it. Renew it.`);
  else if (validToDate.getTime() - nowMs < soonMs)
    warnings.push(`${paths.cert} expires on ${day(validToDate)}. Renew it.`);
  if (validFromDate.getTime() > nowMs)
    warnings.push(`${paths.cert} is valid from ${day(validFromDate)} on: look at the clock of this machine.`);
  const { mode } = await stat(paths.key);
  if (process.platform !== "win32" && (mode & 0o077) !== 0)
    warnings.push(`${paths.key} can be read by other users of this machine: chmod 600 ${paths.key}`);
  return warnings;
}

/** Calls `renewed` with files that were replaced, looked at every `everyMs`. Gives the way to stop. */
export function watchTls(
  paths: TlsPaths,
  everyMs: number,
  renewed: (files: TlsFiles) => void,
  log: (message: string) => void,
): () => void {
  const markOf = async () =>
    (await Promise.all([stat(paths.cert), stat(paths.key)]))
      .map(({ mtimeMs, ino }) => `${mtimeMs} ${ino}`)
      .join();
  const read = async () => Promise.all([paths.cert, paths.key].map((path) => readFile(path, "utf8")));
  let mark: string | null = null;
  let used: string | null = null;
  const look = async () => {
    const now = await markOf();
    if (now === mark) return;
    if (used === null) used = String(await read());
    else {
      const files = await readTls(paths);
      // A file that is being written changes its time more than once: its text tells whether it is new.
      const text = String([files.cert, files.key]);
      if (text !== used) {
        used = text;
        renewed(files);
        log(`tls: ${paths.cert} was renewed`);
      }
    }
    mark = now;
  };
  let looking = false;
  const trying = () => {
    if (looking) return;
    looking = true;
    void look()
      .catch((error: unknown) => log(`tls: the old certificate stays: ${String(error)}`))
      .finally(() => {
        looking = false;
      });
  };
  trying();
  const timer = setInterval(trying, everyMs);
  timer.unref();
  return () => clearInterval(timer);
}
