// `npm run soak`: the full form of what the tests hold in small: kill -9 of the gateway under load, many times.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../", import.meta.url));
const kills = process.argv[2] ?? "60";
const done = spawnSync(
  process.execPath,
  [`${root}node_modules/vitest/vitest.mjs`, "run", "tests/acceptance/killed-gateway.test.ts"],
  {
    cwd: root,
    stdio: "inherit",
    env: { ...process.env, DRUMLIN_KILLS: kills },
  },
);
process.exitCode = done.status ?? 1;
