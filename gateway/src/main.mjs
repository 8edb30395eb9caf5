#!/usr/bin/env node
// Plain JavaScript on purpose: an older Node reads it and says so, and no compiler for TypeScript is loaded for it.
import module from "node:module";
import { setFlagsFromString } from "node:v8";
import { keepStripped } from "./stripped.mjs";

const major = Number(process.versions.node.split(".")[0]);
if (major < 26) {
  console.error(
    `Drumlin needs Node.js 26 and this is ${process.version}: start it with "npm start", or "npx drumlin" inside the project, which use the pinned one.`,
  );
  process.exit(2);
}
// A gateway runs for months beside other programs. V8 by itself would keep 60 MB for new objects, and let the old ones double
// before it collects them; both can be said at the start only, so the process begins again in its own place. Not 2 MB for
// new objects: then a burst of requests holds PUBACKs up. Saving memory means that each whole collection puts what is left
// together and gives the rest back; by itself V8 would then collect twice more, 8 s after each, and let the room for new objects
// shrink: what is made in between would be kept longer, and collected with the old ones.
const smallHeap = [
  "--max-semi-space-size=8",
  "--min-semi-space-size=8",
  "--heap-growing-percent=35",
  "--initial-old-space-size=48",
  "--memory-saver-mode",
  "--memory-reducer-delay-ms=60000",
  "--memory-reducer-gc-count=1",
];
const isGateway = process.argv[2] === "run" || process.argv[2] === "demo";
const loadStripped = `--import=${new URL("./load-stripped.mjs", import.meta.url).href}`;
if (
  isGateway &&
  process.platform !== "win32" &&
  !process.channel &&
  !process.execArgv.includes(smallHeap[0])
) {
  // Node's own cache of what it compiled stays in memory to the end. Text without types is as quick to start from.
  const isKept = keepStripped();
  process.execve(
    process.execPath,
    [
      process.execPath,
      ...smallHeap,
      ...(isKept ? [loadStripped] : []),
      ...process.execArgv,
      ...process.argv.slice(1),
    ],
    {
      // glibc else keeps up to eight heaps a core for the threads, each with what was once free.
      MALLOC_ARENA_MAX: "2",
      ...process.env,
      ...(isKept ? { NODE_DISABLE_COMPILE_CACHE: "1" } : {}),
    },
  );
}
// The threads hold less than this one. What each may keep for new objects is said where it is started (`resourceLimits`): as
// long as the flag stands, it goes before that.
if (isGateway) {
  setFlagsFromString("--initial-old-space-size=8");
  setFlagsFromString("--max-semi-space-size=0");
  setFlagsFromString("--min-semi-space-size=0");
}
// Whatever is made from here on is its owner's alone.
process.umask(0o077);
// What was stripped of its types and compiled once is read from a cache at the next start, by every thread.
if (!process.execArgv.includes(loadStripped)) {
  module.enableCompileCache();
  process.env.NODE_COMPILE_CACHE ??= module.getCompileCacheDir();
}
// Node would look for each of some 900 files in several places, and ask which package each belongs to. A name with its ending says
// where the file is, and a package is the same for all files here: a sixth of the start's work less.
const own = new URL(".", import.meta.url).href;
const packages = new Map();
module.registerHooks({
  resolve(name, { parentURL = "", conditions }, next) {
    if (parentURL.startsWith("file:") && /^\.\.?\/.*\.[jt]s$/.test(name))
      return { url: new URL(name, parentURL).href, shortCircuit: true };
    if (!parentURL.startsWith(own) || conditions.includes("require")) return next(name);
    if (!packages.has(name)) packages.set(name, { ...next(name), shortCircuit: true });
    return packages.get(name);
  },
});
const endWithinMs = 1000;
const { main } = await import("./app/command-line.ts");
process.exitCode = await main(process.argv.slice(2));
// What hangs, such as a connection that nobody ends, does not keep the process.
setTimeout(() => process.exit(), endWithinMs).unref();
