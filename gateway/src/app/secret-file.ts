import { readFile } from "node:fs/promises";
import { type readOptions, UsageError } from "./options.ts";

/**
 * A secret from the file of `--NAME-file`, without the line's end, or from `DRUMLIN_NAME` in the environment; null where
 * neither is there. Throws UsageError; never repeats it.
 */
export async function secretOf(
  options: ReturnType<typeof readOptions>,
  name: string,
  environment: Readonly<Record<string, string | undefined>>,
): Promise<string | null> {
  const file = options.text(`${name}-file`);
  if (file === undefined) return environment[`DRUMLIN_${name.toUpperCase().replaceAll("-", "_")}`] ?? null;
  const text = await readFile(file, "utf8").catch(() => {
    throw new UsageError(`--${name}-file ${file}: it can't be read.`);
  });
  const secret = text.replace(/\r?\n$/, "");
  if (secret === "" || /[\r\n]/.test(secret))
    throw new UsageError(`--${name}-file ${file}: write the secret alone on one line.`);
  return secret;
}
