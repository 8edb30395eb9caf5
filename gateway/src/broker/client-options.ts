import type { IClientOptions } from "mqtt";

/** A broker that takes a connection and says nothing for so long is away. TLS over a slow link has three ways there and back. */
export const connectWithinMs = 20_000;

/** How a gateway signs in at somebody else's broker. */
interface SignIn {
  readonly username?: string | undefined;
  readonly password?: string | undefined;
  /** Certificate authority of the broker, PEM. */
  readonly ca?: string | undefined;
}

/** The name under which a broker keeps the session of a data folder. */
export function clientName(site: string, instance: string): string {
  return `drumlin-${site}-${instance}`;
}

/** The name under which a run asks. Each has its own: two that ask at once would put each other out. */
export function askingName(
  site: string,
  { instance, run }: { readonly instance: string; readonly run: string },
): string {
  return `${clientName(site, instance)}-${run}`;
}

/** What MQTT.js is told of a connection under `clientId`. */
export function connectOptions({ username, password, ca }: SignIn, clientId: string): IClientOptions {
  return {
    clientId,
    protocolVersion: 4,
    // Its own words about each packet cost as much as reading the packet, also where nobody listens.
    log: () => {},
    connectTimeout: connectWithinMs,
    ...(username === undefined ? {} : { username }),
    ...(password === undefined ? {} : { password }),
    ...(ca === undefined ? {} : { ca }),
  };
}
