/** Batches stored within so long after the last look are looked for together, ms. */
const togetherMs = 100;

/** How a sender rests: until a batch is new, or for a time that nothing but `wake` ends. */
export class Rest {
  private hasNew = false;
  private onNew: (() => void) | null = null;
  private end: (() => void) | null = null;

  /** A batch was stored. */
  stored(): void {
    this.hasNew = true;
    this.onNew?.();
  }

  /** It is looked for batches now: what was stored until here is seen. */
  looks(): void {
    this.hasNew = false;
  }

  /** Ends the rest, whatever it waits for. */
  wake(): void {
    this.end?.();
  }

  /** Resolves after so long, ms, or when woken. */
  wait(ms: number): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, ms);
      this.end = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }

  /** Resolves when a batch was stored since the last look, after `atMostMs` at the latest, or when woken. */
  async untilNew(atMostMs: number): Promise<void> {
    let isTogether = false;
    const together = setTimeout(() => {
      isTogether = true;
      if (this.hasNew) this.wake();
    }, togetherMs);
    this.onNew = () => {
      if (isTogether) this.wake();
    };
    await this.wait(atMostMs);
    clearTimeout(together);
    this.onNew = null;
  }
}
