import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** Folder of the built pages; null when they are not built. */
export function monitorPages(): string | null {
  const folder = fileURLToPath(new URL("../../../monitor-ui/dist/", import.meta.url));
  return existsSync(folder) ? folder : null;
}
