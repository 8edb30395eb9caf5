import { createPrivateKey, X509Certificate } from "node:crypto";
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
    // An empty file is no fault to the context: it would serve without a certificate.
    if (!new X509Certificate(files.cert).checkPrivateKey(createPrivateKey(files.key)))
      throw new Error("the key is another certificate's");
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

/** What is done about files that are watched. */
export interface TlsWatch {
  readonly everyMs: number;
  /** What is in use when the watch begins. */
  readonly used: TlsFiles;
  /** Told of files that were replaced, a whole pair; may throw, and is told of them again. */
  readonly renewed: (files: TlsFiles) => void;
  readonly log: (message: string) => void;
}

/** Tells one state of a file from another without reading it, also where its date was set back or it was another link. */
async function markOf({ cert, key }: TlsPaths): Promise<string> {
  const marks = await Promise.all([stat(cert), stat(key)]);
  return marks.map(({ ctimeMs, size, ino }) => `${ctimeMs} ${size} ${ino}`).join();
}

const textOf = ({ cert, key }: TlsFiles) => `${cert}\n${key}`;

/**
 * One look at the files after the other: `renewed` is called where they were replaced. What can't be used, such as another's
 * key or a file that is gone, is said once, when a second look finds the same: a file may be half written at the first.
 */
export function createTlsLook(
  paths: TlsPaths,
  { used, renewed, log }: Omit<TlsWatch, "everyMs">,
): () => Promise<void> {
  let mark: string | null = null;
  let usedText = textOf(used);
  let lastWhy: string | null = null;
  let saidWhy: string | null = null;
  const take = async () => {
    const now = await markOf(paths);
    if (now === mark) return;
    const files = await readTls(paths);
    // A file that is being written changes its mark more than once: its text tells whether it is new.
    if (textOf(files) !== usedText) {
      renewed(files);
      usedText = textOf(files);
      log(`tls: ${paths.cert} was renewed`);
    }
    [mark, lastWhy, saidWhy] = [now, null, null];
  };
  return async () => {
    try {
      await take();
    } catch (error) {
      const why = String(error);
      if (why === lastWhy && why !== saidWhy) {
        log(`tls: the old certificate stays: ${why}`);
        saidWhy = why;
      }
      lastWhy = why;
    }
  };
}

/** Looks at the files every `everyMs` as `createTlsLook` does; looks do not overlap. Gives the way to stop. */
export function watchTls(paths: TlsPaths, { everyMs, ...watch }: TlsWatch): () => void {
  const look = createTlsLook(paths, watch);
  let isLooking = false;
  const trying = () => {
    if (isLooking) return;
    isLooking = true;
    void look().finally(() => {
      isLooking = false;
    });
  };
  trying();
  const timer = setInterval(trying, everyMs);
  timer.unref();
  return () => clearInterval(timer);
}
