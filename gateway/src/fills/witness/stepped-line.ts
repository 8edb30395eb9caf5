/** Readings about their own mean: what a straight line through them is made of. */
export interface LineParts {
  readonly meanX: number;
  readonly meanY: number;
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** Parts of the least-squares line of y over x. */
export function lineOf(x: readonly number[], y: readonly number[]): LineParts {
  const [meanX, meanY] = [mean(x), mean(y)];
  const dx = x.map((value) => value - meanX);
  return {
    ...{ meanX, meanY },
    xx: dx.reduce((sum, value) => sum + value * value, 0),
    xy: dx.reduce((sum, value, at) => sum + value * ((y[at] as number) - meanY), 0),
    yy: y.reduce((sum, value) => sum + (value - meanY) ** 2, 0),
  };
}

/** Two lines of one slope: by how much the second lies under the first, and what squares they leave over. `x` is not all one. */
export function stepBetween(one: LineParts, two: LineParts) {
  const slope = (one.xy + two.xy) / (one.xx + two.xx);
  return {
    slope,
    litres: one.meanY + slope * (two.meanX - one.meanX) - two.meanY,
    left: one.yy + two.yy - slope * (one.xy + two.xy),
  };
}

/** Parts of the line through any stretch of y over x, `to` left out: from sums that are made once. */
export function stretchesOf(
  x: readonly number[],
  y: readonly number[],
): (from: number, to: number) => LineParts {
  const sums = (of: (at: number) => number) => {
    const all = new Float64Array(x.length + 1);
    for (let at = 0; at < x.length; at += 1) all[at + 1] = (all[at] as number) + of(at);
    return (from: number, to: number) => (all[to] as number) - (all[from] as number);
  };
  const [xAt, yAt] = [(at: number) => x[at] as number, (at: number) => y[at] as number];
  const [sumX, sumY] = [sums(xAt), sums(yAt)];
  const [sumXx, sumXy, sumYy] = [
    sums((at) => xAt(at) ** 2),
    sums((at) => xAt(at) * yAt(at)),
    sums((at) => yAt(at) ** 2),
  ];
  return (from, to) => {
    const count = to - from;
    const [meanX, meanY] = [sumX(from, to) / count, sumY(from, to) / count];
    return {
      ...{ meanX, meanY },
      xx: sumXx(from, to) - count * meanX * meanX,
      xy: sumXy(from, to) - count * meanX * meanY,
      yy: sumYy(from, to) - count * meanY * meanY,
    };
  };
}
