/**
 * How far a step goes: shorter with all the squares seen so far (AdaGrad: Duchi, Hazan & Singer 2011). Takes the new square into
 * account and remembers it.
 * @param squares sums of squares by row of weights, changed in place; they start above 0
 * @param square of the gradient of that row
 * @param reach what a step would be at a sum of 1
 */
export function stepLength(squares: Float32Array, row: number, square: number, reach: number): number {
  const seen = (squares[row] as number) + square;
  squares[row] = seen;
  return reach / Math.sqrt(seen);
}
