import type { Client } from "aedes";
import type { BrokerComponents } from "./broker.ts";
import type { ConnectTurns } from "./connect-turns.ts";
import type { Connection, Connections } from "./connection.ts";
import type { Intake } from "./intake.ts";

/** What the handlers of one broker share. */
export interface Shared {
  readonly components: BrokerComponents;
  readonly site: string;
  readonly connections: Connections;
  readonly intake: Intake;
  readonly turns: ConnectTurns;
  /** The connection of a client of the broker library. */
  readonly connectionOf: (client: Client) => Connection | undefined;
  readonly isStopping: () => boolean;
}
