import { brokerFault, type Fault } from "./broker-fault.ts";

/** What MQTT.js gives when the broker refuses a subscription: a code for each topic (MQTT 3.1.1 §3.9.3). */
type Refused = Error & { readonly packet?: { readonly granted?: readonly unknown[] } };

const refusal = 0x80;
const isRefused = (granted: unknown) => typeof granted === "number" && granted >= refusal;

/** What a broker refuses: that the gateway hears its nodes, or that others hear the gateway. */
export type Refusing = "readings" | "words";

/** So many topics are named in a text. */
const mostNamed = 5;

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
  /** What the gateway tells and the broker takes no packet as long as, bytes by topic. */
  private readonly long = new Map<string, number>();
  private longestBytes = 0;
  /** What its rules do not let be written, and what it took and passed back to nobody. */
  private readonly unwritten = new Set<string>();
  private readonly unheard = new Set<string>();
  private told = "";
  private isTelling = false;

  constructor(url: string, log: (message: string) => void) {
    this.url = url;
    this.log = (message) => log(`broker: ${message}`);
  }

  /** In plain words; null while nothing is wrong. */
  get text(): string | null {
    if (this.isLost) return this.why ?? "the broker is away";
    const all = [...(this.unread.length === 0 ? [] : [unreadText(this.unread)]), ...this.wordsText()];
    return all.length === 0 ? null : all.join("; ");
  }

  /** What it refuses while it is there: that nodes are heard, or that others hear the gateway. */
  get refuses(): Refusing | null {
    if (this.isLost) return null;
    if (this.unread.length > 0) return "readings";
    return this.wordsText().length > 0 ? "words" : null;
  }

  /** A word is longer than the longest packet that the broker takes: it is kept from it. */
  tooLong(topic: string, bytes: number, longestBytes: number): void {
    this.longestBytes = longestBytes;
    this.long.set(topic, bytes);
    this.tellOnce();
  }

  shortEnough(topic: string): void {
    this.long.delete(topic);
  }

  /** Another limit, or none: what is too long is found anew. */
  takesLonger(): void {
    this.long.clear();
    this.told = "";
  }

  notWritten(topic: string): void {
    this.unwritten.add(topic);
    this.tellOnce();
  }

  notBack(topic: string): void {
    if (!this.unwritten.has(topic)) this.unheard.add(topic);
    this.tellOnce();
  }

  heardBack(topic: string): void {
    this.unwritten.delete(topic);
    this.unheard.delete(topic);
  }

  private wordsText(): readonly string[] {
    const { long, unwritten, unheard, longestBytes } = this;
    return [
      ...(long.size > 0
        ? [
            `it takes no packet over ${longestBytes} bytes: not told are ${someOf([...long].map(([topic, bytes]) => `${topic} (${bytes} bytes)`))}`,
          ]
        : []),
      ...(unwritten.size > 0 ? [`its rules do not let this gateway write ${someOf([...unwritten])}`] : []),
      ...(unheard.size > 0
        ? [
            `it passes nothing back of ${someOf([...unheard])}: do its rules let this gateway write and read there?`,
          ]
        : []),
    ];
  }

  /** All that is found at once is one line, and each kind of fault is told once: /readyz has what is so now. */
  private tellOnce(): void {
    if (this.isTelling) return;
    this.isTelling = true;
    queueMicrotask(() => {
      this.isTelling = false;
      const kinds = [this.long.size > 0, this.unwritten.size > 0, this.unheard.size > 0].join();
      if (kinds !== this.told) for (const text of this.wordsText()) this.log(text);
      this.told = kinds;
    });
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
    // All is told anew, and what has ended meanwhile is not: what is refused is found again.
    this.unwritten.clear();
    this.unheard.clear();
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

function someOf(names: readonly string[]): string {
  const more = names.length - mostNamed;
  return names.slice(0, mostNamed).join(", ") + (more > 0 ? ` and ${more} more` : "");
}
