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
