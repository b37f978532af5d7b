import { Matrix, QrDecomposition, solve } from "ml-matrix";

/** A linear least squares fit y = X·beta. */
export interface LeastSquares {
  readonly beta: readonly number[];
  /** Standard deviation of each coefficient when the errors are alike and independent; NaN without a degree of freedom. */
  readonly sd: readonly number[];
  /** Sum of squares of the residuals. */
  readonly rss: number;
  /** Rows less coefficients. */
  readonly dof: number;
  /** Diagonal of the inverse of XᵀX. */
  readonly unscaled: readonly number[];
  /** Logarithm of the determinant of XᵀX. */
  readonly logDet: number;
}

/**
 * Fits by orthogonal triangularisation, which does not square the condition of X as the normal equations do. `columns`
 * are the columns of X. Throws a RangeError when there are fewer rows than columns, or when a column follows from the
 * ones before it.
 */
export function leastSquares(columns: readonly Float64Array[], y: Float64Array): LeastSquares {
  const rows = y.length;
  const count = columns.length;
  if (rows < count) throw new RangeError(`${rows} rows cannot fix ${count} coefficients`);
  const x = new Matrix(columns.map((column) => Array.from(column))).transpose();
  const qr = new QrDecomposition(x);
  const r = qr.upperTriangularMatrix;
  const diagonal = r.diagonal();
  columns.forEach((column, k) => {
    if (!(Math.abs(diagonal[k]!) > 1e-12 * Math.hypot(...column))) throw new RangeError(`column ${k} follows from the ones before it`);
  });
  const right = Matrix.columnVector(y);
  const beta = qr.solve(right);
  const residuals = Matrix.sub(right, x.mmul(beta));
  const inverse = solve(r, Matrix.eye(count));
  const unscaled = inverse.to2DArray().map((row) => row.reduce((sum, value) => sum + value * value, 0));
  const rss = residuals.norm() ** 2;
  const dof = rows - count;
  return {
    beta: beta.to1DArray(),
    sd: unscaled.map((variance) => Math.sqrt((variance * rss) / dof)),
    rss,
    dof,
    unscaled,
    logDet: diagonal.reduce((sum, pivot) => sum + 2 * Math.log(Math.abs(pivot)), 0),
  };
}
