import type { IPublishPacket, MqttClient } from "mqtt";
import type { OnRefused } from "./broker.ts";

/** Packs whose commit may be under way; the broker holds the rest back. */
const maxPending = 1000;

/** MQTT.js has no public way to send a PUBACK when one likes; the version is pinned, under a test with a real broker. */
interface Acknowledging {
  _sendPacket(packet: { cmd: "puback"; messageId: number }, done: () => void): void;
}

/** PUBACKs to a broker of somebody else: one after the other, each once its pack is on disk. */
export class LaterAnswers {
  private readonly client: MqttClient;
  private readonly onRefused: OnRefused;
  private pending = 0;
  private lastAnswer: Promise<void> = Promise.resolve();
  private wake: (() => void) | null = null;
  private isStopping = false;

  constructor(client: MqttClient, onRefused: OnRefused) {
    this.client = client;
    this.onRefused = onRefused;
  }

  /** Settles once every pack so far has its answer, or never gets one. */
  get last(): Promise<void> {
    return this.lastAnswer;
  }

  hasRoom(): boolean {
    return this.pending < maxPending;
  }

  async untilThereIsRoom(): Promise<void> {
    while (!this.hasRoom() && !this.isStopping)
      await new Promise<void>((resolve) => {
        this.wake = resolve;
      });
  }

  /** A pack that could not be stored gets no answer, and comes again. */
  answer(packet: IPublishPacket, written: Promise<unknown> | null): void {
    this.pending += 1;
    const connection = this.client.stream;
    const before = this.lastAnswer;
    this.lastAnswer = Promise.resolve(written).then(
      async () => {
        await before;
        this.ended();
        // An answer belongs to the connection on which the pack came.
        if (packet.qos === 1 && this.client.connected && this.client.stream === connection)
          (this.client as unknown as Acknowledging)._sendPacket(
            { cmd: "puback", messageId: packet.messageId as number },
            () => {},
          );
      },
      async (error: unknown) => {
        await before;
        this.ended();
        this.onRefused("journal-not-writing", null, error instanceof Error ? error.message : String(error));
        // Without an answer the broker brings the pack again, but only on a new connection.
        if (this.client.stream === connection) connection.destroy();
      },
    );
  }

  stop(): void {
    this.isStopping = true;
    this.wake?.();
  }

  private ended(): void {
    this.pending -= 1;
    this.wake?.();
  }
}
