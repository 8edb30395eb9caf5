import { connect, type IClientOptions, type MqttClient } from "mqtt";
import { brokerFault, unreachable } from "./broker-fault.ts";
import { connectWithinMs } from "./client-options.ts";
import { type FoundCopy, findCopy, type Run } from "./copied-folder.ts";
import { SiteTaken } from "./site-taken.ts";

/** What a broker keeps comes with its answer, or soon after that. */
const presenceWaitMs = 600;
/** A gateway that works answers at once; one whose turn is long, within this; what its way there and back takes comes to it. */
const startWaitMs = 1000;
/** One that was put out asks itself for so long, too, before it comes again. */
const putOutWaitMs = 3000;

/** What a gateway says of itself at its site; null where it is not understood. */
export interface SitePresence {
  readonly state?: unknown;
  readonly instance?: unknown;
}

/** Reads a gateway's presence; null when it is none. */
export function readSitePresence(text: string): SitePresence | null {
  try {
    const said: unknown = JSON.parse(text);
    return typeof said === "object" ? said : null;
  } catch {
    return null;
  }
}

/** What a gateway's presence says. */
export function presenceText(state: "online" | "offline", instance: string): string {
  return JSON.stringify({ state, instance });
}

/** The retained text of a topic; "" when none comes soon, or the broker does not let it be read. */
function retainedAt(client: MqttClient, topic: string, steadyMs: () => number): Promise<string> {
  const askedMs = steadyMs();
  return new Promise<string>((resolve) => {
    const none = () => resolve("");
    let timer = setTimeout(none, connectWithinMs);
    client.on("message", (from, bytes, { retain }) => {
      if (from !== topic || !retain) return;
      clearTimeout(timer);
      resolve(bytes.toString());
    });
    const answered = () => {
      clearTimeout(timer);
      timer = setTimeout(none, presenceWaitMs + steadyMs() - askedMs);
    };
    client.once("close", none);
    client.subscribeAsync(topic, { qos: 1 }).then(answered, none);
  });
}

/** Where a run's site is spoken of, and who asks. */
interface Asking {
  /** The gateway's presence; runs under one name ask each other there, too. */
  readonly presence: string;
  readonly me: Run;
  readonly steadyMs: () => number;
}

/** Works over a connection of its own, which may end meanwhile; rejects in plain words when the broker can't be reached. */
async function connected<Answer>(
  url: string,
  connecting: IClientOptions,
  work: (client: MqttClient) => Promise<Answer>,
): Promise<Answer> {
  const client = connect(url, { ...connecting, clean: true, reconnectPeriod: 0 });
  try {
    await new Promise<void>((resolve, reject) => {
      client.once("connect", () => resolve());
      client.on("error", (error) => reject(new Error(brokerFault(url, error))));
      client.once("close", () => reject(unreachable(url)));
    });
    return await work(client);
  } finally {
    client.end(true);
  }
}

/**
 * Rejects with SiteTaken when another instance is online at this site, or one that works with a copy of this data folder and so
 * under the same name; or when the broker can't be reached. A presence of its own name may be what its last run left behind: only
 * one that answers is there.
 */
export function requireFreeSite(
  url: string,
  connecting: IClientOptions,
  { presence, me, steadyMs }: Asking,
): Promise<void> {
  return connected(url, connecting, async (client) => {
    const said = readSitePresence(await retainedAt(client, presence, steadyMs));
    if (said?.state !== "online") return;
    if (said.instance !== me.instance)
      throw new SiteTaken(
        `Another gateway (${String(said.instance).slice(0, 60)}) is online at this site. Stop it, or start with --take-over.`,
      );
    const { other } = await findCopy(
      client,
      { topic: presence, me },
      { waitMs: startWaitMs, isPutOut: false, steadyMs },
    );
    if (other)
      throw new SiteTaken(
        `A gateway with a copy of this data folder (${me.instance}) is online at this site: one folder serves one gateway. Stop it, or start with --take-over.`,
      );
  });
}

/** Asks who puts this run out again and again; nobody is found where the broker is away. */
export function findWhoPutOut(
  url: string,
  connecting: IClientOptions,
  { presence, me, steadyMs }: Asking,
): Promise<FoundCopy> {
  return connected(url, connecting, (client) =>
    findCopy(client, { topic: presence, me }, { waitMs: putOutWaitMs, isPutOut: true, steadyMs }),
  ).catch(() => ({ other: null, isMute: false }));
}
