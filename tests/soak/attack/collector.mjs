// Loaded before a gateway under attack: on demand it throws away what nobody needs, and says what is in use of the main
// thread's heap. What is resident hangs on when V8 last did so by itself.
import v8 from "node:v8";
import { runInNewContext } from "node:vm";
import { isMainThread } from "node:worker_threads";

if (isMainThread && process.send) {
  v8.setFlagsFromString("--expose-gc");
  const collect = runInNewContext("gc");
  process.on("message", () => {
    collect();
    process.send?.(process.memoryUsage().heapUsed);
  });
  // The gateway ends when it has stopped, whoever may still ask.
  process.channel?.unref();
}
