#!/usr/bin/env node
// Plain JavaScript on purpose: an older Node reads it and says so, and no compiler for TypeScript is loaded for it.
import module from "node:module";

const major = Number(process.versions.node.split(".")[0]);
if (major < 26) {
  console.error(
    `Drumlin needs Node.js 26 and this is ${process.version}: start it with "npm start", or "npx drumlin" inside the project, which use the pinned one.`,
  );
  process.exit(2);
}
// Whatever is made from here on is its owner's alone.
process.umask(0o077);
// What was stripped of its types and compiled once is read from a cache at the next start, by every thread.
module.enableCompileCache();
process.env.NODE_COMPILE_CACHE ??= module.getCompileCacheDir();
const endWithinMs = 1000;
const { main } = await import("./app/command-line.ts");
process.exitCode = await main(process.argv.slice(2));
// What hangs, such as a connection that nobody ends, does not keep the process.
setTimeout(() => process.exit(), endWithinMs).unref();
