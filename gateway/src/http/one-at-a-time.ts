/** Of one asker one piece of work at once; others of theirs wait in the order in which they came. */
export class OneAtATime {
  private readonly last = new Map<string, Promise<unknown>>();

  /** Does `work` when what was asked for before is over, however it ended; gives what it gives. */
  run<Result>(asker: string, work: () => Promise<Result>): Promise<Result> {
    const before = this.last.get(asker);
    const done = before ? before.then(work, work) : work();
    this.last.set(asker, done);
    const forget = () => {
      if (this.last.get(asker) === done) this.last.delete(asker);
    };
    done.then(forget, forget);
    return done;
  }
}
