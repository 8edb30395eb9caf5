import { readFileSync } from "node:fs";
import { uptime } from "node:os";

/** The times that the machine offers. Nothing in the gateway but its clock asks for them. */
export interface HostTime {
  /** What the machine says the time is, epoch ms: it can be set, forward and back. */
  wallMs(): number;
  /** Runs evenly from the start of the process; stands still while the machine sleeps. */
  steadyMs(): number;
  /** Runs evenly from the start of the machine, through its sleep and through restarts of the process. */
  uptimeMs(): number;
  /** Tells one run of the machine from the next; null where the system does not say. */
  readonly bootId: string | null;
}

function bootIdOf(): string | null {
  try {
    // Linux: random at each boot (proc_sys_kernel(5), "random/boot_id").
    return readFileSync("/proc/sys/kernel/random/boot_id", "utf8").trim();
  } catch {
    return null;
  }
}

/** This machine's time, epoch ms, as commands use it that run without a gateway. */
export const wallMs = (): number => Date.now();

/** Time that only ever goes on, ms since the start of the process: for how long something took. */
export const steadyMs = (): number => performance.now();

/** The times of this machine. */
export function hostTime(): HostTime {
  return { wallMs, steadyMs, uptimeMs: () => uptime() * 1000, bootId: bootIdOf() };
}
