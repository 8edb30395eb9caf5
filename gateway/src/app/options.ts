import { parseArgs } from "node:util";

/** The command line can't be understood; the message says which part and what is expected. Exit code 2. */
export class UsageError extends Error {
  readonly code = "usage";
}

/** Where a server listens. Port 0 lets the system choose. */
export interface ListenAddress {
  readonly host: string;
  readonly port: number;
}

/** Reads `HOST:PORT`, `PORT` or `[::1]:PORT`. Throws UsageError. */
export function listenAddress(text: string, option: string): ListenAddress {
  const match = /^(?:(?<host>\[[^\]]+\]|[^:]+):)?(?<port>\d{1,5})$/.exec(text);
  const port = Number(match?.groups?.port);
  if (!match || port > 65_535)
    throw new UsageError(`--${option} ${text}: write HOST:PORT, for example 127.0.0.1:8080.`);
  return { host: (match.groups?.host ?? "127.0.0.1").replace(/^\[|\]$/g, ""), port };
}

const dayMs = 86_400_000;
const megabyte = 1e6;

/** Reads how long readings are kept: `--keep-days`, `--keep-mb`. Throws UsageError. */
export function readKeeping(text: (name: string) => string | undefined): {
  readonly keepMs?: number;
  readonly keepBytes?: number;
} {
  const wholeOf = (name: string, least: number): number | undefined => {
    const given = text(name);
    if (given === undefined) return undefined;
    const value = /^\d{1,9}$/.test(given) ? Number(given) : Number.NaN;
    if (!(value >= least)) throw new UsageError(`--${name} ${given}: write a whole number from ${least} on.`);
    return value;
  };
  const days = wholeOf("keep-days", 7);
  const megabytes = wholeOf("keep-mb", 50);
  return {
    ...(days === undefined ? {} : { keepMs: days * dayMs }),
    ...(megabytes === undefined ? {} : { keepBytes: megabytes * megabyte }),
  };
}

type OptionKind = "text" | "flag";

/**
 * Reads options and positionals; an option that is not given is taken from `DRUMLIN_{NAME}` in the environment.
 * Throws UsageError for an unknown option, and for one that is given twice: neither wins.
 */
export function readOptions(
  args: readonly string[],
  kinds: Readonly<Record<string, OptionKind>>,
  environment: Readonly<Record<string, string | undefined>> = process.env,
): {
  readonly text: (name: string) => string | undefined;
  readonly flag: (name: string) => boolean;
  readonly rest: readonly string[];
} {
  const options = Object.fromEntries(
    Object.entries(kinds).map(([name, kind]) => [
      name,
      { type: kind === "flag" ? ("boolean" as const) : ("string" as const) },
    ]),
  );
  try {
    const { values, positionals, tokens } = parseArgs({
      args: [...args],
      options,
      allowPositionals: true,
      tokens: true,
    });
    const named = tokens.filter((token) => token.kind === "option").map((token) => token.name);
    const twice = named.find((name, place) => kinds[name] === "text" && named.indexOf(name) !== place);
    if (twice !== undefined) throw new UsageError(`--${twice} is given twice; give it once.`);
    const fromEnvironment = (name: string) =>
      environment[`DRUMLIN_${name.toUpperCase().replaceAll("-", "_")}`];
    return {
      text: (name) => {
        const value = values[name];
        return typeof value === "string" ? value : fromEnvironment(name);
      },
      flag: (name) => values[name] === true || fromEnvironment(name) === "1",
      rest: positionals,
    };
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
}
