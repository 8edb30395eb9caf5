import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { main } from "@drumlin/gateway/app";
import { recordNames } from "@drumlin/gateway/logbook";
import { vi } from "vitest";

/** All that `drumlin export` and `drumlin backup` print of the folder, and the backup's manifest. */
export async function everythingPrinted(data: string): Promise<ReadonlyMap<string, string>> {
  const printed = new Map<string, string>();
  const folder = mkdtempSync(join(tmpdir(), "drumlin-secrets-"));
  let said: string[] = [];
  const spies = [
    ...(["log", "error"] as const).map((way) =>
      vi.spyOn(console, way).mockImplementation((text: string) => void said.push(text)),
    ),
    vi.spyOn(process.stdout, "write").mockImplementation((text, ...more) => {
      said.push(String(text));
      for (const one of more as unknown[]) if (typeof one === "function") one();
      return true;
    }),
  ];
  const run = async (name: string, args: readonly string[]) => {
    said = [];
    const code = await main([...args, "--data", data]);
    printed.set(name, said.join("\n"));
    if (code !== 0) throw new Error(`${name}: ${code}, ${said.join("\n")}`);
  };
  try {
    for (const kind of [...recordNames, "series"]) await run(kind, ["export", kind]);
    await run("backup", ["backup", "--to", join(folder, "new")]);
    printed.set("manifest", readFileSync(join(folder, "new", "manifest.json"), "utf8"));
  } finally {
    for (const spy of spies) spy.mockRestore();
    rmSync(folder, { recursive: true, force: true });
  }
  return printed;
}

/** A line of the key, as it would stand in JSON too. */
export const vapidKey = (data: string): string =>
  readFileSync(join(data, "secrets", "vapid-key"), "utf8").split("\n")[1] as string;
