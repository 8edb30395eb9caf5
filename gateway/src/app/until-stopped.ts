/** So long after the first signal the process ends, whatever hangs. */
const endWithinMs = 9800;

/** Resolves at the first SIGINT or SIGTERM; the process ends within 10 s of it, and at once at the second one. */
export function untilStopped(): Promise<void> {
  return new Promise((resolve) => {
    let asked = false;
    const stop = () => {
      if (asked) process.exit(1);
      asked = true;
      setTimeout(() => process.exit(1), endWithinMs).unref();
      resolve();
    };
    process.on("SIGINT", stop);
    process.on("SIGTERM", stop);
  });
}
