import { parentPort } from "node:worker_threads";
import { readLineFile } from "../alarms/index.ts";
import { compute } from "../water/index.ts";
import type { HeavyTask } from "./heavy-work.ts";
import { openApiDocument } from "./open-api.ts";

function answerOf(task: HeavyTask): unknown {
  if (task.kind === "document") return JSON.stringify(openApiDocument());
  if (task.kind === "compute") return compute(task.formula, task.inputs);
  const { ok, faults } = readLineFile(task.yaml);
  return { ok, faults };
}

parentPort?.on("message", (task: HeavyTask) => {
  try {
    parentPort?.postMessage({ ok: true, answer: answerOf(task) });
  } catch (error) {
    parentPort?.postMessage({ ok: false, error: error instanceof Error ? error.stack : String(error) });
  }
});
parentPort?.postMessage("ready");
