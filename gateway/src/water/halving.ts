/**
 * Where a rising function takes a value, between `low` and `high`, to the last digits of a number. Gives an end where the
 * value lies outside.
 */
export function whereRisingTakes(
  rising: (x: number) => number,
  value: number,
  low: number,
  high: number,
): number {
  let left = low;
  let right = high;
  for (let step = 0; step < 200; step += 1) {
    const middle = (left + right) / 2;
    if (middle <= left || middle >= right) break;
    if (rising(middle) < value) left = middle;
    else right = middle;
  }
  return (left + right) / 2;
}
