import { setFlagsFromString } from "node:v8";

const lookEveryMs = 1000;
/** Readings a second from which collecting 2 MB again and again costs more than its memory is worth. */
export const busyReadingsPerSecond = 3000;
/** What V8 does by itself: the space for new objects doubles, up to 67 MB, when much of it is still in use. */
const usualGrowth = "--semi-space-growth-factor=2";

/**
 * `main.mjs` keeps the space for new objects small: 1,000 quiet nodes need no more. Once more readings come in a second
 * than that, it grows as usual, and stays so. Gives how to stop looking.
 */
export function growWhenBusy(
  readings: () => number,
  grow = () => setFlagsFromString(usualGrowth),
): { look(): void; stop(): void } {
  let before = readings();
  const timer = setInterval(look, lookEveryMs);
  timer.unref();
  function look(): void {
    const now = readings();
    if (now - before >= busyReadingsPerSecond) {
      clearInterval(timer);
      grow();
    }
    before = now;
  }
  return { look, stop: () => clearInterval(timer) };
}
