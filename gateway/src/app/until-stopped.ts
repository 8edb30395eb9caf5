/** Resolves at the first SIGINT or SIGTERM; the second one ends the process at once. */
export function untilStopped(): Promise<void> {
  return new Promise((resolve) => {
    let asked = false;
    const stop = () => {
      if (asked) process.exit(1);
      asked = true;
      resolve();
    };
    process.on("SIGINT", stop);
    process.on("SIGTERM", stop);
  });
}
