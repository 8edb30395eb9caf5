import { connect, type IClientOptions, type MqttClient } from "mqtt";
import { findCopy, type Run } from "./copied-folder.ts";
import { SiteTaken } from "./site-taken.ts";

const presenceWaitMs = 600;
/** A gateway that works answers at once; one whose turn is long, within this. */
const startWaitMs = 1000;
/** One that was put out comes again within 0.75 s, and may ask for so long itself before it does. */
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

/** The error of a broker that does not answer; it names the host, never the sign-in. */
export function unreachable(url: string): Error {
  return new Error(`The broker at ${new URL(url).host} can't be reached.`);
}

/** The retained text of a topic; "" when none comes soon. */
function retainedAt(client: MqttClient, topic: string): Promise<string> {
  return new Promise<string>((resolve, reject) => {
    const timer = setTimeout(() => resolve(""), presenceWaitMs);
    client.on("message", (from, bytes) => {
      if (from !== topic) return;
      clearTimeout(timer);
      resolve(bytes.toString());
    });
    client.subscribeAsync(topic, { qos: 1 }).catch(reject);
  });
}

/** Where a run's site is spoken of, and who asks. */
interface Asking {
  /** The gateway's presence. */
  readonly presence: string;
  /** Runs under one name ask each other here. */
  readonly copies: string;
  readonly me: Run;
}

/** Works over a connection of its own; rejects when the broker can't be reached. */
async function connected<Answer>(
  url: string,
  connecting: IClientOptions,
  work: (client: MqttClient) => Promise<Answer>,
): Promise<Answer> {
  const client = connect(url, { ...connecting, clean: true, reconnectPeriod: 0 });
  client.on("error", () => {});
  try {
    await new Promise<void>((resolve, reject) => {
      client.once("connect", () => resolve());
      client.once("error", (error) => reject(error.message === "connack timeout" ? unreachable(url) : error));
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
  { presence, copies, me }: Asking,
): Promise<void> {
  return connected(url, connecting, async (client) => {
    const other = readSitePresence(await retainedAt(client, presence));
    if (other?.state !== "online") return;
    if (other.instance !== me.instance)
      throw new SiteTaken(
        `Another gateway (${String(other.instance).slice(0, 60)}) is online at this site. Stop it, or start with --take-over.`,
      );
    const copy = await findCopy(client, { topic: copies, me }, { waitMs: startWaitMs, isPutOut: false });
    if (copy)
      throw new SiteTaken(
        `A gateway with a copy of this data folder (${me.instance}) is online at this site: one folder serves one gateway. Stop it, or start with --take-over.`,
      );
  });
}

/** What was found of who puts a run out again and again. */
export interface WhoPutOut {
  /** The run under its name; null when none is found, or the broker is away. */
  readonly other: Run | null;
  /** The broker did not even pass the question back to who asked. */
  readonly isMute: boolean;
}

/** Asks who puts this run out again and again. */
export function findWhoPutOut(
  url: string,
  connecting: IClientOptions,
  { copies, me }: Pick<Asking, "copies" | "me">,
): Promise<WhoPutOut> {
  return connected(url, connecting, async (client) => {
    let isMute = true;
    client.on("message", (from, _, { retain }) => {
      if (from === copies && !retain) isMute = false;
    });
    const other = await findCopy(client, { topic: copies, me }, { waitMs: putOutWaitMs, isPutOut: true });
    return { other, isMute };
  }).catch(() => ({ other: null, isMute: false }));
}
