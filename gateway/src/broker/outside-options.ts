import type { Journal } from "../journal/index.ts";
import type { OnRefused } from "./broker.ts";
import type { Retries } from "./retries.ts";

/** What a gateway needs to work on a broker that is not its own. */
export interface OutsideBrokerOptions {
  readonly url: string;
  readonly site: string;
  /** Identity of the data folder: two gateways on one site are told apart by it. */
  readonly instance: string;
  readonly username?: string | undefined;
  readonly password?: string | undefined;
  /** Certificate authority of the broker, PEM. */
  readonly ca?: string | undefined;
  /** Start although another gateway's presence is online at this site. */
  readonly takeOver?: boolean;
  /** After half as much again without a word of the broker it is taken for gone; 30 s. */
  readonly keepAliveSeconds?: number;
  /** When this run began, epoch ms: of two runs with copies of one folder the later one stops. */
  readonly startedAtMs?: number;
  /** Topics of other protocols that the line maps. */
  readonly foreignTopics: readonly string[];
}

/** What works behind the client of somebody else's broker. */
export interface OutsideBrokerComponents {
  readonly journal: Pick<Journal, "appendFor">;
  readonly onRefused: OnRefused;
  readonly log: (message: string) => void;
  /** Time that only goes on, ms: how long the way to the broker and back takes. */
  readonly steadyMs: () => number;
  /** Another gateway has this site, as `why` says: this one has nothing more to do here. */
  readonly onTakenOver: (why: string) => void;
  readonly room?: () => Promise<void> | null;
  /** How long it waits before it comes again. */
  readonly retries?: Retries;
}
