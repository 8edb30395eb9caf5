import type { Worker } from "node:worker_threads";
import type { Who } from "../accounts/index.ts";
import type { OutsideBrokerOptions, RateLimits } from "../broker/index.ts";
import type { TlsFiles } from "../http/index.ts";
import type { InfluxTarget, Retention } from "../series/index.ts";
import type { HostTime } from "./host-time.ts";
import type { ListenAddress } from "./options.ts";

/** What a gateway is started with; what is left out has its default. */
export interface GatewayOptions {
  readonly data: string;
  /** The checked text of the line file. */
  readonly lineYaml: string;
  /** Where that text came from, so that pages can change it. */
  readonly lineFile?: string;
  readonly http: ListenAddress;
  readonly mqtt: ListenAddress;
  /** TLS of the page and the API. */
  readonly tls?: TlsFiles | null;
  readonly mqttTls?: TlsFiles | null;
  /** Plain HTTP on private addresses, on purpose. */
  readonly plainHttp?: boolean;
  /** Whoever asks is this one: the demo, and tests. On loopback only. */
  readonly signedIn?: Who;
  readonly simulated?: boolean;
  readonly rate?: RateLimits;
  /** Told when another gateway took the site over on that broker. */
  readonly onTakenOver?: () => void;
  /** A broker of somebody else, instead of the embedded one. */
  readonly outsideBroker?: Pick<
    OutsideBrokerOptions,
    "url" | "username" | "password" | "ca" | "takeOver"
  > | null;
  /** How long readings are kept. */
  readonly retention?: Partial<Retention>;
  /** A database of InfluxDB that everything is sent on to. */
  readonly influx?: InfluxTarget | null;
  /** Told in a plain sentence when the gateway can't go on: whoever started it ends the process. */
  readonly onFatal?: (why: string) => void;
  /** Told of each thread that starts. */
  readonly onThread?: (part: "journal" | "series", worker: Worker) => void;
  /** The machine's times; tests set them. */
  readonly host?: HostTime;
  /** Appends history with its own times before the gateway opens its doors (the demo). */
  readonly before?: (
    append: (topic: string, payload: Uint8Array, receivedAt: number) => Promise<number>,
  ) => Promise<void>;
  /** Devices may be reached by push services of the own network: tests, and houses without the Internet. */
  readonly pushInside?: boolean;
  /** Secrets that stand in the environment. */
  readonly environment?: Readonly<Record<string, string | undefined>>;
  /** A certificate authority of the own house, for mail, webhooks and push, PEM. */
  readonly houseCa?: string;
  readonly log: (message: string) => void;
}

/** A gateway that runs. */
export interface Gateway {
  readonly httpPort: number;
  readonly mqttPort: number;
  /** For the first account; null when there is one. Printed by whoever starts the gateway. */
  readonly setUpCode: string | null;
  /** New certificates for new connections. */
  renewTls(tls: TlsFiles): void;
  renewMqttTls(tls: TlsFiles): void;
  /** Takes what stands in the line file now; the result is logged. */
  reloadLine(): Promise<void>;
  /** Why it is not ready, by the part's name; null when it is. */
  notReady(): string | null;
  /** Ends within 9 s, whatever hangs; gives the parts that did not stop in order. */
  stop(): Promise<readonly string[]>;
}
