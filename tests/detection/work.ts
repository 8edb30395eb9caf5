// A thread of `run.ts`: lives of one kit and one seed, each job with all scenes or one quiet life.
import { parentPort } from "node:worker_threads";
import { kitOf } from "./kits.ts";
import { liveQuietly, type QuietLife } from "./live-quietly.ts";
import { concerns, createScenes, type FaultLife, scenes } from "./scenes.ts";

/** `days` 0: the faults. */
export interface Job {
  readonly kit: string;
  readonly seed: number;
  readonly days: number;
  readonly periodS: number;
  readonly only: readonly string[] | null;
}
export type JobDone = { readonly job: Job } & (
  | { readonly faults: readonly (readonly [scene: string, life: FaultLife])[] }
  | { readonly quiet: QuietLife }
);

function done(job: Job): JobDone {
  if (job.days > 0) return { job, quiet: liveQuietly(job.kit, job.seed, job.days, job.periodS) };
  const kit = kitOf(job.kit);
  const live = createScenes(kit, job.seed, job.periodS);
  return {
    job,
    faults: scenes
      .filter((scene) => concerns(scene, kit) && job.only?.includes(scene.name) !== false)
      .map((scene) => [scene.name, live(scene)] as const),
  };
}

parentPort?.on("message", (job: Job) => parentPort?.postMessage(done(job)));
