/** Places and weights of a rule that sums a function instead of integrating it. */
export interface Rule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

/** Gauss–Legendre rule of `count` places on `from` to `to`: Abramowitz and Stegun (1964) 25.4.30, roots by Newton. */
export function gaussLegendre(count: number, from: number, to: number): Rule {
  const half = (to - from) / 2;
  const nodes: number[] = [];
  const weights: number[] = [];
  for (let place = 0; place < count; place += 1) {
    let x = Math.cos((Math.PI * (place + 0.75)) / (count + 0.5));
    let slope = 0;
    for (let step = 0; step < 8; step += 1) {
      let [before, value] = [1, x];
      for (let degree = 2; degree <= count; degree += 1)
        [before, value] = [value, ((2 * degree - 1) * x * value - (degree - 1) * before) / degree];
      slope = (count * (x * value - before)) / (x * x - 1);
      x -= value / slope;
    }
    nodes.push(from + half * (1 - x));
    weights.push((2 * half) / ((1 - x * x) * slope * slope));
  }
  return { nodes, weights };
}

/** Solves `matrix` · x = `right` in place: Gauss with the greatest pivot of each column. */
function solve(matrix: Float64Array[], right: Float64Array): Float64Array {
  const n = right.length;
  const at = (row: number, column: number) => (matrix[row] as Float64Array)[column] as number;
  for (let column = 0; column < n; column += 1) {
    let pivot = column;
    for (let row = column + 1; row < n; row += 1)
      if (Math.abs(at(row, column)) > Math.abs(at(pivot, column))) pivot = row;
    [matrix[column], matrix[pivot]] = [matrix[pivot] as Float64Array, matrix[column] as Float64Array];
    [right[column], right[pivot]] = [right[pivot] as number, right[column] as number];
    for (let row = column + 1; row < n; row += 1) {
      const share = at(row, column) / at(column, column);
      const below = matrix[row] as Float64Array;
      for (let place = column; place < n; place += 1)
        below[place] = (below[place] as number) - share * at(column, place);
      right[row] = (right[row] as number) - share * (right[column] as number);
    }
  }
  for (let row = n - 1; row >= 0; row -= 1) {
    let sum = right[row] as number;
    for (let place = row + 1; place < n; place += 1) sum -= at(row, place) * (right[place] as number);
    right[row] = sum / at(row, row);
  }
  return right;
}

/**
 * The function L with L(u) = 1 + atom(u) · L(0) + ∫ L(x) · kernel(x, u) dx over `from` to `to`: values by Nyström's
 * way on `count` places. Average run lengths of control charts are such functions.
 */
export function runLengthFunction(
  range: { readonly from: number; readonly to: number; readonly count: number },
  kernel: (x: number, u: number) => number,
  atom: (u: number) => number,
): (u: number) => number {
  const { nodes, weights } = gaussLegendre(range.count, range.from, range.to);
  // L(0) is the last unknown, behind those at the nodes.
  const places = [...nodes, 0];
  const matrix = places.map((u, row) => {
    const line = Float64Array.from([
      ...nodes.map((x, at) => -kernel(x, u) * (weights[at] as number)),
      -atom(u),
    ]);
    line[row] = (line[row] as number) + 1;
    return line;
  });
  const found = solve(matrix, new Float64Array(places.length).fill(1));
  const atZero = found[nodes.length] as number;
  return (u) =>
    nodes.reduce(
      (sum, x, at) => sum + kernel(x, u) * (weights[at] as number) * (found[at] as number),
      1 + atom(u) * atZero,
    );
}
