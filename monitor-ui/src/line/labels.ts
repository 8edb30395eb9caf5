/** Something beside a vessel, at its height, %. */
interface Label {
  readonly at: number;
  /** It stands where it is: the others make room. */
  readonly fixed?: boolean;
}

/**
 * Heights of labels that don't touch, in the order of `labels`: each as near to its own height as `apart` (%) allows,
 * the order from bottom to top kept, and what is fixed where it was.
 */
export function spreadLabels(labels: readonly Label[], apart: number): number[] {
  const order = labels.map((_, index) => index);
  const at = labels.map((label) => label.at);
  const isFixed = (index: number) => labels[index]?.fixed === true;
  // Of two at one height the fixed one stays below: a float that trips there is named over it.
  order.sort((a, b) => (at[a] ?? 0) - (at[b] ?? 0) || Number(isFixed(b)) - Number(isFixed(a)));
  const anchor = order.findIndex(isFixed);
  const from = Math.max(anchor, 0);
  for (let place = from + 1; place < order.length; place += 1) {
    const [own, below] = [order[place] as number, order[place - 1] as number];
    at[own] = Math.max(at[own] ?? 0, (at[below] ?? 0) + apart);
  }
  for (let place = from - 1; place >= 0; place -= 1) {
    const [own, above] = [order[place] as number, order[place + 1] as number];
    at[own] = Math.min(at[own] ?? 0, (at[above] ?? 0) - apart);
  }
  return at;
}
