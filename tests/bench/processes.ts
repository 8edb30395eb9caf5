import { readFileSync } from "node:fs";

/** Resident memory of a process, MB. */
export function residentMB(pid: number): number {
  const match = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, "utf8"));
  return Number(match?.[1]) / 1000;
}

/** Seconds of the processor that a process has had, all its threads. */
export function cpuSeconds(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, "utf8").split(") ")[1]?.split(" ") ?? [];
  return (Number(fields[11]) + Number(fields[12])) / 100;
}

/** What one thread had, microseconds. */
export interface ThreadTimes {
  readonly ran: number;
  /** It could have run, and others had the processors. */
  readonly waited: number;
}

/** What the calling thread has had so far (Linux, Documentation/scheduler/sched-stats.rst). */
export function threadTimes(): ThreadTimes {
  const [ran, waited] = readFileSync("/proc/thread-self/schedstat", "utf8").split(" ").map(Number);
  return { ran: Number(ran) / 1000, waited: Number(waited) / 1000 };
}
