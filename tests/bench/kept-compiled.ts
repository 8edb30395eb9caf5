// Imported before anything starts a thread or a process: what was stripped of its types and compiled is kept and read again, as
// by every gateway after its first start (gateway/src/main.mjs). Without it most of a thread's start is that work.
import { fileURLToPath } from "node:url";

process.env.NODE_COMPILE_CACHE ??= fileURLToPath(new URL("../../.cache/compiled", import.meta.url));
