import { isDamage } from "../../database/index.ts";
import { DamagedPart } from "./block-file.ts";

/** What a thread says of something that failed: why, and whether it is for the file's sake. */
export function failureOf(error: unknown): { readonly error: string; readonly isDamage: boolean } {
  return {
    error: error instanceof Error ? error.message : String(error),
    isDamage: error instanceof DamagedPart || isDamage(error),
  };
}
