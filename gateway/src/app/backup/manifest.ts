import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { z } from "zod";

/** A file of a backup: of the folder itself, or a secret of it. */
const kept = z.object({
  name: z.string().regex(/^(secrets\/\.?)?[a-z0-9][a-z0-9.-]*$/),
  bytes: z.number().int(),
  sha256: z.string(),
});

/** What a backup says of itself, in `manifest.json`, which is written last. */
export const manifestSchema = z.object({
  drumlin: z.literal(1),
  at: z.string(),
  /** The state of the path is that after this entry; null where there was no checkpoint. */
  checkpointSeq: z.number().int().nullable(),
  /** A start on it runs the journal again up to this entry. */
  journalSeq: z.number().int(),
  files: z.array(kept),
});

/** What a backup says of itself: up to which entry, and the sum of each file. */
export type Manifest = z.infer<typeof manifestSchema>;
/** The manifest's file in a backup. */
export const manifestName = "manifest.json";

/** SHA-256 of a file, hexadecimal. */
export async function sumOf(path: string): Promise<string> {
  const hash = createHash("sha256");
  for await (const chunk of createReadStream(path)) hash.update(chunk as Buffer);
  return hash.digest("hex");
}
