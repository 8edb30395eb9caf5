import { brokerFault, type Fault } from "./broker-fault.ts";

/** What MQTT.js gives when the broker refuses a subscription: a code for each topic (MQTT 3.1.1 §3.9.3). */
type Refused = Error & { readonly packet?: { readonly granted?: readonly unknown[] } };

const refusal = 0x80;
const isRefused = (granted: unknown) => typeof granted === "number" && granted >= refusal;

/** What is wrong with the broker of somebody else, told in the log as it begins and ends, and kept for who asks. */
export class OutsideTrouble {
  private readonly url: string;
  private readonly log: (message: string) => void;
  /** It let the gateway in once: before that, the start tells why it does not. */
  private isKnown = false;
  private isLost = false;
  private why: string | null = null;
  /** Topics that it does not let be read. */
  private unread: readonly string[] = [];

  constructor(url: string, log: (message: string) => void) {
    this.url = url;
    this.log = (message) => log(`broker: ${message}`);
  }

  /** In plain words; null while nothing is wrong. */
  get text(): string | null {
    if (this.isLost) return this.why ?? "the broker is away";
    return this.unread.length === 0 ? null : unreadText(this.unread);
  }

  /** A connection failed, or one that was tried; the same is told once. Of one that stood, that it is lost is told anyway. */
  failed(error: Fault): void {
    if (!this.isLost && error.code !== undefined) return;
    const why = brokerFault(this.url, error);
    if (this.isKnown && why !== this.why) this.log(why);
    this.why = why;
  }

  opened(): void {
    if (this.isLost) this.log("found again");
    this.isKnown = true;
    this.isLost = false;
    this.why = null;
  }

  closed(): void {
    if (this.isKnown && !this.isLost) this.log("lost");
    this.isLost = true;
  }

  /** The broker answered what was asked of it; an error without an answer is a connection that went. */
  subscribed(topics: readonly string[], error: Refused | null | undefined): void {
    const granted = error?.packet?.granted;
    if (error && !granted) return;
    const unread = topics.filter((_, place) => isRefused(granted?.[place]));
    if (unread.length > 0 && unread.join() !== this.unread.join()) this.log(unreadText(unread));
    this.unread = unread;
  }
}

function unreadText(topics: readonly string[]): string {
  return `its rules do not let this gateway read ${topics.join(", ")}`;
}
