/**
 * What is told to somebody who is not there yet, as by threads of a store that is still opened (a small one is moved, or a
 * fault is met, before the second has started): kept in its order, and told at `hear`; after that at once.
 */
export class ToldEarly<Hearer> {
  private hearer: Hearer | null = null;
  private readonly kept: ((hearer: Hearer) => void)[] = [];

  tell(what: (hearer: Hearer) => void): void {
    if (this.hearer) what(this.hearer);
    else this.kept.push(what);
  }

  hear(hearer: Hearer): void {
    this.hearer = hearer;
    for (const what of this.kept.splice(0)) what(hearer);
  }
}
