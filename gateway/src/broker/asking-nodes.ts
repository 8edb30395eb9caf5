import type { MqttClient } from "mqtt";
import type { Asked } from "./broker.ts";

/** A connection that ends so soon after a request was sent may have been ended for it. */
const endsWithinMs = 2000;
/** Twice in a row is no chance: nothing is asked for so long, then once more. */
const mostEnds = 2;
const heldMs = 600_000;

interface AskingNodesNeeds {
  readonly client: Pick<MqttClient, "connected" | "publish">;
  readonly steadyMs: () => number;
  readonly log: (message: string) => void;
}

/**
 * Requests to nodes over a broker of somebody else. One whose rules forbid them drops them in silence, or ends the connection
 * for each (MQTT 3.1.1 §3.3.5-2; Mosquitto 2.0.11 does so at QoS 0): they are kept from it then, so that what nodes send is
 * not held up again and again.
 */
export class AskingNodes {
  private readonly needs: AskingNodesNeeds;
  private askedMs: number | null = null;
  private ends = 0;
  private heldSinceMs: number | null = null;
  private isTold = false;

  constructor(needs: AskingNodesNeeds) {
    this.needs = needs;
  }

  ask(topic: string, payload: string): Asked {
    const { client, steadyMs } = this.needs;
    const nowMs = steadyMs();
    if (this.heldSinceMs !== null && nowMs - this.heldSinceMs < heldMs) return "kept-back";
    this.heldSinceMs = null;
    this.stood(nowMs);
    // MQTT.js would keep it until it is connected again.
    if (!client.connected) return "away";
    this.askedMs = nowMs;
    client.publish(topic, payload, { qos: 0, retain: false });
    return "sent";
  }

  /** The connection ended. */
  closed(): void {
    const nowMs = this.needs.steadyMs();
    this.stood(nowMs);
    if (this.askedMs === null) return;
    this.askedMs = null;
    this.ends += 1;
    if (this.ends < mostEnds) return;
    this.heldSinceMs = nowMs;
    if (!this.isTold)
      this.needs.log(
        "broker: it ended the connection for requests to nodes: do its rules let this gateway write …/request? None is sent for 10 min",
      );
    this.isTold = true;
  }

  /** A request after which the connection stood was let through, or dropped. */
  private stood(nowMs: number): void {
    if (this.askedMs === null || nowMs - this.askedMs <= endsWithinMs) return;
    this.askedMs = null;
    this.ends = 0;
    this.isTold = false;
  }
}
