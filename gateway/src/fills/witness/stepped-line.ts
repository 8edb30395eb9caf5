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
