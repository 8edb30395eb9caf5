import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { SeriesRow } from "@drumlin/gateway/series";
import { storeInOneThread } from "./store-in-one-thread.ts";

/** A day, ms. */
export const dayMs = 86_400_000;
/** When the days begin, epoch ms. */
export const beginMs = Date.UTC(2026, 0, 1);
/** The series of them. */
export const names = ["point/supply/conductivity25", "reading/press/ec-1[S/m]"];
const folders: string[] = [];

/** In which the last of them are kept. */
export const lastFolder = () => folders.at(-1) as string;

/** Takes away what they were kept in. */
export function removeLived(): void {
  for (const path of folders.splice(0)) rmSync(path, { recursive: true, force: true });
}

/** Two series of so many days, a row each half hour or so, all sealed. */
export function lived(days: number, everyMs = 1_800_000) {
  const path = mkdtempSync(join(tmpdir(), "drumlin-kept-"));
  folders.push(path);
  const store = storeInOneThread(path);
  const rows: SeriesRow[] = [];
  for (let at = 0; at < (days * dayMs) / everyMs; at += 1)
    for (const series of names)
      rows.push({ series, tMs: beginMs + at * everyMs, value: Math.sin(at) * 100, flag: 1 });
  store.add(rows);
  store.commit();
  store.sealAll();
  return store;
}
