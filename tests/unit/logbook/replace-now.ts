import type { Replacing } from "@drumlin/gateway/logbook";

/** Compares without a pause and puts down what differs; gives how often it would have paused. */
export function replaceNow(replacing: Replacing): number {
  for (let pauses = 0; ; pauses += 1) {
    const { done, value } = replacing.next();
    if (!done) continue;
    value();
    return pauses;
  }
}
