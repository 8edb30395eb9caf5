/**
 * Numbers from least to greatest, of which one comes and one goes at a time: to sort them all anew costs a hundred times as
 * much, most of it for fetching each from where it lies.
 */
export class SortedColumn {
  private room: Float64Array;
  private count: number;

  /** Begins with numbers that are sorted already; none of them is NaN. */
  constructor(sorted: Float64Array) {
    this.room = sorted;
    this.count = sorted.length;
  }

  /** From least to greatest; good until the next one comes or goes. */
  values(): Float64Array {
    return this.room.subarray(0, this.count);
  }

  add(value: number): void {
    if (this.count === this.room.length) {
      const wider = new Float64Array(2 * this.count + 16);
      wider.set(this.room);
      this.room = wider;
    }
    const at = this.placeOf(value);
    this.room.copyWithin(at + 1, at, this.count);
    this.room[at] = value;
    this.count += 1;
  }

  /** Takes one of these numbers away; one that is not there changes nothing. */
  remove(value: number): void {
    const at = this.placeOf(value);
    if (at === this.count || this.room[at] !== value) return;
    this.room.copyWithin(at, at + 1, this.count);
    this.count -= 1;
  }

  /** The first place whose number is not less. */
  private placeOf(value: number): number {
    let [low, high] = [0, this.count];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.room[middle] as number) < value) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}
