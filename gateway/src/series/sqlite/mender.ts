import type { StoreThread } from "../store-thread.ts";
import { markDamaged } from "./soundness.ts";

/** Each leaves the damaged file beside the new one: a disk that damages one after the other is not to be filled. */
const maxMends = 3;

type Stopped = Pick<StoreThread<never>, "away" | "back">;

/** Has a file that is found damaged made again by the thread that writes it, while rows wait in the head. */
export class Mender {
  /** It was made again since the start: until the next one runs the journal into it, it must not say how far it is. */
  isMended = false;
  /** Why that could not be begun; null. */
  trouble: string | null = null;
  private readonly path: string;
  private readonly threads: { readonly writer: Stopped; readonly reader: Stopped };
  private mends = 0;
  private isMending = false;

  constructor(path: string, threads: { readonly writer: Stopped; readonly reader: Stopped }) {
    this.path = path;
    this.threads = threads;
  }

  async mend(why: string): Promise<void> {
    if (this.isMending || this.mends >= maxMends) return;
    this.isMending = true;
    this.mends += 1;
    const { writer, reader } = this.threads;
    try {
      markDamaged(this.path);
      this.isMended = true;
      await reader.away(why);
      await writer.away(why);
      await writer.back();
      await reader.back();
    } catch (error) {
      this.trouble = error instanceof Error ? error.message : String(error);
    } finally {
      this.isMending = false;
    }
  }
}
