import type { NodeCredentials } from "../accounts/index.ts";
import type { Journal } from "../journal/index.ts";
import type { Refusing } from "./outside-trouble.ts";
import type { RateLimits } from "./rate.ts";
import type { BrokerRefusalCode } from "./refusals.ts";

/** Told of each refusal, with the node where it is known. */
export type OnRefused = (code: BrokerRefusalCode, node: string | null, detail: string) => void;

/** What the embedded broker needs. */
export interface BrokerComponents {
  readonly journal: Pick<Journal, "append" | "appendFor" | "trouble">;
  readonly credentials: Pick<NodeCredentials, "verify" | "inForce" | "isCostly">;
  readonly now: () => number;
  readonly onRefused: OnRefused;
  /** Nodes onto whose channels the line maps a topic of another protocol. */
  readonly foreignNodes?: (topic: string) => ReadonlySet<string>;
  /** Null while there is room; else resolves when there is again (the rest of the path is behind). */
  readonly room?: () => Promise<void> | null;
}

/** Certificate (with its chain) and key, PEM. */
export interface BrokerTls {
  readonly cert: string;
  readonly key: string;
}

/** What a broker is started with. */
export interface BrokerOptions {
  readonly site: string;
  readonly host: string;
  readonly port: number;
  /** Certificate and key, PEM; null listens without TLS. */
  readonly tls?: BrokerTls | null;
  readonly rate?: RateLimits;
  /** Connections in all, and of nobody yet; see Admission. */
  readonly maxConnections?: number;
  readonly maxUnknown?: number;
}

/** What becomes of a request to a node: kept back where the broker ends connections for them. */
export type Asked = "sent" | "away" | "kept-back";

/** A broker as the rest of the gateway sees it: the embedded one, or somebody else's. */
export interface Broker {
  /** The port it listens on. */
  readonly port: number;
  /** False while a broker of somebody else is away. */
  isConnected(): boolean;
  /** Why it is of less use, in plain words; null while nothing is wrong. The embedded one has nothing to say. */
  trouble(): string | null;
  /** What a broker of somebody else refuses while it is there; null: nothing that is known. */
  refuses(): Refusing | null;
  connectedNodes(): readonly string[];
  /** Ends the connection of every node whose secret is no longer the one it signed in with. */
  dropRevoked(): void;
  /** Tells other programs something under the gateway's own topics, retained; "" takes it away. */
  tell(topic: string, payload: string): void;
  /** Says something once, to whoever listens now: never retained. False where the broker did not take it. */
  say(topic: string, payload: string): Promise<boolean>;
  /** Asks a node something now, QoS 0: nothing of it is kept for one that is away. */
  ask(topic: string, payload: string): Asked;
  /** Retained topics of the gateway that an earlier run left there. */
  toldBefore(): readonly string[];
  /** Told each time that the broker can be spoken to again; never by the embedded one. */
  onConnected(listener: () => void): void;
  /** Topics of other protocols that the line maps now. */
  useForeign(topics: readonly string[]): void;
  /** New certificate and key for new connections; nothing without TLS. */
  renew(tls: BrokerTls): void;
  /** Refuses new connections, waits for what is being written, closes. */
  stop(): Promise<void>;
}
