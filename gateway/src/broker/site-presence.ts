import { connect, type IClientOptions, type MqttClient } from "mqtt";
import { SiteTaken } from "./site-taken.ts";

const presenceWaitMs = 600;

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

/** Rejects with SiteTaken when another instance is online at this site, or when the broker can't be reached. */
export async function requireFreeSite(
  url: string,
  connecting: IClientOptions,
  { topic, instance }: { readonly topic: string; readonly instance: string },
): Promise<void> {
  const client = connect(url, { ...connecting, clean: true, reconnectPeriod: 0 });
  try {
    await new Promise<void>((resolve, reject) => {
      client.once("connect", () => resolve());
      client.once("error", (error) => reject(error.message === "connack timeout" ? unreachable(url) : error));
      client.once("close", () => reject(unreachable(url)));
    });
    const other = readSitePresence(await retainedAt(client, topic));
    if (other?.state === "online" && other.instance !== instance)
      throw new SiteTaken(
        `Another gateway (${String(other.instance).slice(0, 60)}) is online at this site. Stop it, or start with --take-over.`,
      );
  } finally {
    client.on("error", () => {});
    client.end(true);
  }
}
