#!/usr/bin/env node
import { enableCompileCache, getCompileCacheDir } from "node:module";

// Thin on purpose: refuses an older Node in one plain sentence, then hands over to app/.
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
enableCompileCache();
process.env.NODE_COMPILE_CACHE ??= getCompileCacheDir();
const endWithinMs = 1000;
const { main } = await import("./app/command-line.ts");
process.exitCode = await main(process.argv.slice(2));
// What hangs, such as a connection that nobody ends, does not keep the process.
setTimeout(() => process.exit(), endWithinMs).unref();
