// `npm run containers`: InfluxDB 2.7 and 3 Core, and the project's own image with Mosquitto, in containers. Needs a container
// engine (Docker or Podman's socket). `--list` prints what would be asserted of which container, and needs none;
// `--types` checks the types against the library's own.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { ensureInstalled, root, runToEnd } from "../../gateway/node26.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const vitest = join(root, "node_modules", "vitest", "vitest.mjs");
const config = ["--config", join(here, "vitest.config.ts")];

/** This package stands outside of the workspaces: what it needs is installed when it is asked for. */
function install() {
  if (existsSync(join(here, "node_modules", "testcontainers"))) return;
  const done = spawnSync("npm", ["ci", "--loglevel=error"], {
    cwd: here,
    stdio: "inherit",
    shell: process.platform === "win32",
  });
  if (done.status !== 0) throw new Error(`npm ci in ${here} failed.`);
}

const hasEngine = () =>
  process.env.DOCKER_HOST !== undefined || spawnSync("docker", ["info"], { stdio: "ignore" }).status === 0;

try {
  ensureInstalled();
  const [what, ...more] = process.argv.slice(2);
  if (what === "--list") process.exitCode = await runToEnd([vitest, "list", "--no-static-parse", ...config]);
  else {
    install();
    const types = await runToEnd([join(root, "node_modules", "typescript", "bin", "tsc"), "-p", here]);
    if (types !== 0 || what === "--types") process.exitCode = types;
    else if (!hasEngine()) {
      console.error("No container engine answers (docker info): start one, or set DOCKER_HOST.");
      process.exitCode = 2;
    } else process.exitCode = await runToEnd([vitest, "run", ...config, ...(what ? [what] : []), ...more]);
  }
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
}
