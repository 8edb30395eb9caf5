// Loaded before the gateway (node --import): its wall clock is what stands in a file, "offset-ms speed", read anew 50 times a
// second. With a speed above 1 the steady time runs as fast, so that a minute passes in seconds; a speed that changes moves
// neither of them.
import { readFileSync } from "node:fs";
import { isMainThread } from "node:worker_threads";

if (isMainThread) {
  const realNow = Date.now.bind(Date);
  const realSteady = performance.now.bind(performance);
  let beganMs = realNow();
  let shownMs = beganMs;
  let beganSteadyMs = realSteady();
  let shownSteadyMs = beganSteadyMs;
  let offsetMs = 0;
  let speed = 1;
  const read = () => {
    const [offset, factor] = readFileSync(process.env.TEST_CLOCK_FILE, "utf8").split(" ").map(Number);
    if (Number.isFinite(offset)) offsetMs = offset;
    if (!Number.isFinite(factor) || factor === speed) return;
    const [atMs, steadyMs] = [realNow(), realSteady()];
    shownMs += (atMs - beganMs) * speed;
    shownSteadyMs += (steadyMs - beganSteadyMs) * speed;
    [beganMs, beganSteadyMs, speed] = [atMs, steadyMs, factor];
  };
  read();
  setInterval(read, 20).unref();
  Date.now = () => Math.round(shownMs + (realNow() - beganMs) * speed + offsetMs);
  performance.now = () => shownSteadyMs + (realSteady() - beganSteadyMs) * speed;
}
