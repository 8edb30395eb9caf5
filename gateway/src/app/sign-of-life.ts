import type { Notify } from "../line/index.ts";
import { askOutside } from "../notifications/index.ts";

const lookEveryMs = 1000;

interface SignOfLifeNeeds {
  readonly heartbeat: () => Notify["heartbeat"];
  /** An address with its secrets filled in; throws where there are none. */
  readonly addressOf: (url: string) => string;
  /** The path takes what comes and judges it. */
  readonly judges: () => boolean;
  readonly say: (payload: string) => Promise<boolean>;
  readonly engineMs: () => number;
  readonly nowMs: () => number;
  readonly ca?: string;
}

/** How the last sign of life went. */
export interface SignOfLife {
  readonly lastMs: number | null;
  readonly error: string | null;
}

/**
 * A sign of life to somebody outside, while and only while the path judges: whoever expects it notices a dead gateway,
 * disk, network or mains. One that fails is not made up for.
 */
export function createSignOfLife({
  heartbeat,
  addressOf,
  judges,
  say,
  engineMs,
  nowMs,
  ca,
}: SignOfLifeNeeds) {
  let state: SignOfLife = { lastMs: null, error: null };
  let dueMs = 0;
  let asking: Promise<void> | null = null;

  async function beat({ get, mqtt, allowPrivate }: NonNullable<Notify["heartbeat"]>): Promise<void> {
    const faults: string[] = [];
    if (get !== null) {
      try {
        const { status } = await askOutside({
          url: addressOf(get),
          method: "GET",
          allowPrivate,
          ...(ca === undefined ? {} : { ca }),
        });
        if (status < 200 || status >= 300) faults.push(`It answered ${status}.`);
      } catch (error) {
        faults.push((error as Error).message);
      }
    }
    if (mqtt && !(await say(JSON.stringify({ at: new Date(nowMs()).toISOString() }))))
      faults.push("The broker is away.");
    state =
      faults.length === 0
        ? { lastMs: engineMs(), error: null }
        : { lastMs: state.lastMs, error: faults.join(" ") };
  }

  const timer = setInterval(() => {
    const settings = heartbeat();
    if (!settings || asking || engineMs() < dueMs || !judges()) return;
    dueMs = engineMs() + settings.everyMs;
    asking = beat(settings).finally(() => {
      asking = null;
    });
  }, lookEveryMs);

  return {
    state: (): SignOfLife => state,
    /** Resolves when nobody is being asked. */
    idle: async (): Promise<void> => void (await asking),
    stop: () => clearInterval(timer),
  };
}
