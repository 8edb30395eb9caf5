import type { Browser } from "playwright-core";

/** One task of a page's own thread. */
export interface Task {
  /** When it began, ms on the trace's clock. */
  readonly atMs: number;
  /** What it took of the processor, ms: other programs that run meanwhile are not in it. */
  readonly cpuMs: number;
}

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  /** µs; `tdur`: of the thread's own clock. */
  readonly ts: number;
  readonly tdur?: number;
  readonly args: { readonly name?: string };
}

/** Tasks of the pages' own threads while something happens, by Chromium's own trace. */
export async function tasksDuring(browser: Browser, during: () => Promise<unknown>): Promise<Task[]> {
  const session = await browser.newBrowserCDPSession();
  const events: TraceEvent[] = [];
  session.on("Tracing.dataCollected", ({ value }) => events.push(...(value as unknown as TraceEvent[])));
  await session.send("Tracing.start", {
    transferMode: "ReportEvents",
    traceConfig: { includedCategories: ["toplevel", "__metadata"] },
  });
  await during();
  const whole = new Promise((resolve) => session.once("Tracing.tracingComplete", resolve));
  await session.send("Tracing.end");
  await whole;
  await session.detach();
  const threadOf = ({ pid, tid }: TraceEvent) => `${pid} ${tid}`;
  const own = new Set(
    events.filter(({ name, args }) => name === "thread_name" && args.name === "CrRendererMain").map(threadOf),
  );
  return events
    .filter((event) => event.ph === "X" && event.tdur !== undefined && own.has(threadOf(event)))
    .filter(({ name }) => name === "ThreadControllerImpl::RunTask")
    .map(({ ts, tdur = 0 }) => ({ atMs: ts / 1000, cpuMs: tdur / 1000 }))
    .sort((a, b) => a.atMs - b.atMs);
}

const displayMs = 1000 / 60;

/**
 * Frames a second that a thread `slowdown` times slower has time for, on a display of 60 a second: one is missed at each
 * of the display's turns that finds the thread at work. Tasks keep their order, and wait for each other; so they must be
 * such as come whatever frames are made.
 */
export function framesLeft(tasks: readonly Task[], slowdown: number): number {
  const [first, last] = [tasks[0]?.atMs ?? 0, tasks.at(-1)?.atMs ?? 0];
  const turns = Math.round((last - first) / displayMs);
  let [missed, freeMs, turn] = [0, first, 0];
  for (const { atMs, cpuMs } of tasks) {
    const beginMs = Math.max(atMs, freeMs);
    freeMs = beginMs + cpuMs * slowdown;
    while (turn < turns && first + turn * displayMs < beginMs) turn += 1;
    while (turn < turns && first + turn * displayMs < freeMs) {
      missed += 1;
      turn += 1;
    }
  }
  return turns === 0 ? 0 : (60 * (turns - missed)) / turns;
}
