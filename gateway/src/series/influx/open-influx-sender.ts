import { readFileSync } from "node:fs";
import { rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { BatchLog, OwedRange } from "../batch-log.ts";
import type { SeriesStore } from "../series-store.ts";
import { startStoreThread } from "../store-thread.ts";
import { waitAfter } from "./backoff.ts";
import { InfluxSender } from "./influx-sender.ts";
import type { Pace } from "./influx-sender-options.ts";
import type { InfluxState } from "./influx-state.ts";
import type { InfluxTarget } from "./influx-target.ts";
import type { InfluxRequest } from "./requests.ts";
import type { SetAside } from "./set-aside.ts";

/** What the sender's thread is started with. */
export interface InfluxSenderNeeds {
  readonly target: InfluxTarget;
  /** Of the embedded store. */
  readonly log: BatchLog;
  readonly range: SeriesStore["range"];
  /** Whether a series is sent; all are where it is left out. */
  readonly isSent?: (series: string) => boolean;
  /** The data folder: what was set aside is counted over restarts. */
  readonly folder: string;
  readonly steadyMs: () => number;
  readonly pace?: Pace;
  /** A request that is not answered for so long has failed, ms. */
  readonly withinMs?: number;
  readonly onChange: (failure: InfluxState["failure"]) => void;
}

/** A thread that ended is started again after so long. */
const againMs = 1000;
const usualPace: Pace = {
  lookEveryMs: 1000,
  waitMs: (failures) => waitAfter(failures, Math.random()),
  goodForMs: 60_000,
};

/** What a file of an earlier run holds, as far as it is right. */
function known<One>(path: string, isRight: (one: One) => boolean): readonly One[] {
  try {
    const all = JSON.parse(readFileSync(path, "utf8")) as readonly (One | null)[];
    return all.filter((one) => one !== null && isRight(one)) as readonly One[];
  } catch {
    // None yet, or a damaged one: it begins anew, and holds nothing up.
    return [];
  }
}

const isAside = ({ points, example }: SetAside) => Number.isFinite(points) && typeof example === "string";
const isStretch = ({ series, fromMs, toMs }: OwedRange) =>
  typeof series === "string" && Number.isFinite(fromMs) && Number.isFinite(toMs);

/**
 * Writes a file whole, one state after the other, the latest always. It does not wait for the disk, as that would be waited for at
 * each batch: a program that is killed finds it, a machine that loses its power may not.
 */
function keeper<One>(path: string) {
  let latest: readonly One[] | null = null;
  let isWriting = false;
  return async (all: readonly One[]) => {
    latest = all;
    if (isWriting) return;
    isWriting = true;
    while (latest) {
      const text = JSON.stringify(latest, null, 2);
      latest = null;
      try {
        await writeFile(`${path}.new`, text, { mode: 0o600 });
        await rename(`${path}.new`, path);
      } catch {
        // A full disk: the next change writes it.
      }
    }
    isWriting = false;
  };
}

/**
 * Starts sending to InfluxDB, and asks first whether it can be reached and takes the sign-in. A server that can't be reached
 * keeps nothing from starting: `onChange` is told why, and it is tried again and again.
 */
export async function openInfluxSender({
  target,
  log,
  range,
  isSent = () => true,
  folder,
  steadyMs,
  pace = usualPace,
  withinMs,
  onChange,
}: InfluxSenderNeeds): Promise<InfluxSender> {
  const thread = await startStoreThread<InfluxRequest>({
    worker: new URL("./influx-worker.ts", import.meta.url),
    data: { target, withinMs },
    againMs,
    onThread: () => {},
  });
  const asidePath = join(folder, "influx-set-aside.json");
  const doubtPath = join(folder, "influx-in-doubt.json");
  const keepAside = keeper<SetAside>(asidePath);
  const sender = new InfluxSender({
    log,
    range,
    isSent,
    thread,
    steadyMs,
    pace,
    aside: known(asidePath, isAside),
    onAside: (all) => void keepAside(all),
    inDoubt: known(doubtPath, isStretch),
    onDoubt: keeper<OwedRange>(doubtPath),
    onChange,
  });
  await sender.start();
  return sender;
}
