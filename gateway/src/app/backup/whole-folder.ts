import { existsSync } from "node:fs";
import { join } from "node:path";
import { manifestName } from "./manifest.ts";

/** The folder inside a data folder in which a restore makes its copies. */
export const restoringName = "restoring";
/** Lies there from before the first file is put into its place until after the last one. */
const markName = join(restoringName, manifestName);

/** Throws in plain words where a restore into this folder was cut off. */
export function requireWholeFolder(data: string): void {
  if (existsSync(join(data, markName)))
    throw new Error(
      `${data} is not whole: a restore into it goes on, or was cut off. Run "drumlin restore" into it again; it begins anew.`,
    );
}
