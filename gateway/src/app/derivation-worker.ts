// The thread of a derivation: gives way to live work, and only then reads its program, which is 0.15 s of work by itself.
import { setPriority } from "node:os";

/** Between usual and lowest (19), setpriority(2). */
const priority = 10;
// Live work goes first where there are fewer processors than threads: on Linux a thread has a priority of its own.
if (process.platform === "linux") setPriority(0, priority);
await import("./derivation-run.ts");
