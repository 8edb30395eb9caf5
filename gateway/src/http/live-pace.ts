import type { ServerResponse } from "node:http";
import type { HttpComponents, Told } from "./components.ts";
import type { LiveTexts } from "./live-texts.ts";

/** Bytes a slow client may leave unread before it gets only the latest; and for how long. */
const maxUnreadBytes = 256 * 1024;
const slowForMs = 30_000;
/** A slow client is looked at again after so long: what it asked for, but not more often than this. */
const minLookMs = 50;

/** What the news of one stream are sent with. */
export interface LivePaceNeeds {
  readonly response: ServerResponse;
  readonly elapsedMs: HttpComponents["elapsedMs"];
  readonly texts: LiveTexts;
  /** Latest per thing wins within this time; news after a longer silence, and with 0 all, is sent at once. */
  readonly everyMs: number;
  /** Called once a client has read nothing for too long. */
  onStuck(): void;
}

/** When the news of one stream are sent: the latest of each thing, at once after a silence, else at its pace. */
export class LivePace {
  private readonly needs: LivePaceNeeds;
  private readonly latest = new Map<string, { readonly told: Told; readonly seq: number }>();
  private slowSinceMs: number | null = null;
  private sentAtMs = Number.NEGATIVE_INFINITY;
  private soon: NodeJS.Immediate | null = null;
  private later: NodeJS.Timeout | null = null;

  constructor(needs: LivePaceNeeds) {
    this.needs = needs;
  }

  /**
   * Sent at once, but never inside of what tells: what one turn of the path tells is sent as it is at its end. What comes
   * within `everyMs` of the last sending waits for its end.
   */
  add(key: string, told: Told, seq: number): void {
    this.latest.delete(key);
    this.latest.set(key, { told, seq });
    if (this.soon !== null) return;
    const waitMs = this.sentAtMs + this.needs.everyMs - this.needs.elapsedMs();
    if (waitMs > 0) this.sendIn(waitMs);
    else
      this.soon = setImmediate(() => {
        this.soon = null;
        this.send();
      });
  }

  /** Nothing is sent any more. */
  end(): void {
    if (this.soon !== null) clearImmediate(this.soon);
    if (this.later !== null) clearTimeout(this.later);
    this.latest.clear();
  }

  private sendIn(ms: number): void {
    this.later ??= setTimeout(() => {
      this.later = null;
      this.send();
    }, ms);
  }

  private send(): void {
    const { response, elapsedMs, texts, everyMs } = this.needs;
    this.sentAtMs = elapsedMs();
    if (response.writableLength > maxUnreadBytes) {
      this.slowSinceMs ??= this.sentAtMs;
      if (this.sentAtMs - this.slowSinceMs > slowForMs) this.needs.onStuck();
      else this.sendIn(Math.max(minLookMs, everyMs));
      return;
    }
    this.slowSinceMs = null;
    let chunk = "";
    for (const [key, { told, seq }] of this.latest) chunk += texts.of(key, told, seq);
    this.latest.clear();
    if (chunk !== "") response.write(chunk);
  }
}
