import type { IClientOptions } from "mqtt";
import { askedOf, type Run, stays } from "./copied-folder.ts";
import { findWhoPutOut } from "./site-presence.ts";

/** A connection that stood for less was a short one. */
const shortMs = 30_000;
/** After so many in a row it is asked who puts this gateway out. */
const manyShort = 3;

interface PutOutOptions {
  readonly url: string;
  /** How it asks: under a name of its own. */
  readonly asking: IClientOptions;
  /** Runs under one name ask each other here. */
  readonly presence: string;
  readonly me: Run;
  readonly steadyMs: () => number;
  /** The name that they share. */
  readonly name: string;
  readonly log: (message: string) => void;
}

/**
 * Sees a gateway with a copy of this data folder at the broker. It signs in under this one's name, and a broker lets a name in once:
 * whoever comes puts out the one before (MQTT 3.1.1 §3.1.4-2), which comes again, for ever, and each has half of the packs.
 */
export class PutOut {
  private readonly options: PutOutOptions;
  /** Connections in a row that ended soon after they stood. */
  private short = 0;
  private standing: NodeJS.Timeout | undefined;

  constructor(options: PutOutOptions) {
    this.options = options;
  }

  opened(): void {
    clearTimeout(this.standing);
    this.standing = setTimeout(() => {
      this.short = 0;
      this.standing = undefined;
    }, shortMs).unref();
  }

  /** A connection ended, or one that was tried never stood: whether to ask who puts this gateway out before it comes again. */
  closed(): boolean {
    this.short = this.standing === undefined ? 0 : this.short + 1;
    clearTimeout(this.standing);
    this.standing = undefined;
    return this.short > 0 && this.short % manyShort === 0;
  }

  /** Asks; false where another run has this name and stays, so that this one has to stop. Says once in a row what it found. */
  async mayComeAgain(): Promise<boolean> {
    const { url, asking, presence, me, name, log } = this.options;
    const { other, isMute } = await findWhoPutOut(url, asking, this.options);
    if (other && !stays(me, other)) return false;
    if (this.short === manyShort)
      log(
        other
          ? "broker: another gateway with a copy of this data folder signs in under the same name; this one stays"
          : `broker: lost ${this.short} times soon after it was found: does another program sign in as ${name}? Or does the broker take no packets as long as this gateway's?`,
      );
    if (isMute && this.short === manyShort)
      log(
        `broker: passes on nothing under ${presence}, where copies of a data folder find each other: do its rules let this gateway read and write there?`,
      );
    return true;
  }

  /** What another run under this name is answered, and whether it has to have the site; null where none asks. */
  heard(text: string): { readonly answer: string; readonly isItsSite: boolean } | null {
    const { me } = this.options;
    const asked = askedOf(text, me);
    // One that only begins does not start once it is answered.
    return asked && { answer: asked.answer, isItsSite: asked.isPutOut && stays(asked.by, me) };
  }
}
