import { getPriority, setPriority } from "node:os";
import { parentPort } from "node:worker_threads";
import type { HeavyTask } from "./heavy-work.ts";

/** A third of the share of a thread of ours where there is too little for both (5 steps of 1.25 each, sched(7)). */
const lowerBy = 5;
// Whoever sends packs goes first. Linux alone counts a thread for itself (setpriority(2), "C library/kernel
// differences"); elsewhere this would slow the whole process.
if (process.platform === "linux") setPriority(0, Math.min(19, getPriority(0) + lowerBy));

/** Each kind of work loads what it needs, and no more. */
async function workOf(task: HeavyTask): Promise<() => unknown> {
  if (task.kind === "document") {
    const { openApiDocument } = await import("./open-api.ts");
    return () => JSON.stringify(openApiDocument());
  }
  if (task.kind === "compute") {
    const { compute } = await import("../water/index.ts");
    return () => compute(task.formula, task.inputs);
  }
  const { readLineFile } = await import("../alarms/index.ts");
  return () => {
    const { ok, faults } = readLineFile(task.yaml);
    return { ok, faults };
  };
}

parentPort?.on("message", async (task: HeavyTask) => {
  try {
    const work = await workOf(task);
    parentPort?.postMessage("begins");
    parentPort?.postMessage({ ok: true, answer: work() });
  } catch (error) {
    parentPort?.postMessage({ ok: false, error: error instanceof Error ? error.stack : String(error) });
  }
});
parentPort?.postMessage("ready");
