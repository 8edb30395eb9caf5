// A thread of its own for checkpoints, where no other takes them in.
import { parentPort, workerData } from "node:worker_threads";
import { serve } from "./checkpoint-service.ts";

if (!parentPort) throw new Error("checkpoint-worker.ts runs as a worker only.");
serve(parentPort, workerData);
