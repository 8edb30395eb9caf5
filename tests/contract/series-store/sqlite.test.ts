import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openSqliteSeries } from "@drumlin/gateway/series";
import { seriesStoreContract } from "./suite.ts";

seriesStoreContract("SQLite", async () => {
  const folder = mkdtempSync(join(tmpdir(), "drumlin-series-"));
  return {
    open: () => openSqliteSeries({ folder }),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
});
