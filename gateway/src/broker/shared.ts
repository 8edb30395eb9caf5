import type { Client } from "aedes";
import type { BrokerComponents } from "./broker.ts";
import type { Connection, Connections } from "./connection.ts";
import type { Intake } from "./intake.ts";
import type { LoopTurns } from "./loop-turns.ts";

/** What the handlers of one broker share. */
export interface Shared {
  readonly components: BrokerComponents;
  readonly site: string;
  readonly connections: Connections;
  readonly intake: Intake;
  readonly turns: LoopTurns;
  /** The connection of a client of the broker library. */
  readonly connectionOf: (client: Client) => Connection | undefined;
  readonly isStopping: () => boolean;
}
