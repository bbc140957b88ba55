/** Small dense linear algebra. Matrices are row-major Float64Arrays. */

/** Solves A·X = B in place of copies: A n × n, B n × m; Gaussian elimination with row pivots. */
export function solveLinear(a: Float64Array, b: Float64Array, n: number): Float64Array {
  const m = b.length / n;
  const A = a.slice();
  const B = b.slice();
  for (let k = 0; k < n; k++) {
    // Bring the largest entry of the column up.
    let p = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(A[i * n + k]!) > Math.abs(A[p * n + k]!)) p = i;
    if (A[p * n + k] === 0) throw new Error('solveLinear: the matrix is singular');
    if (p !== k) {
      for (let j = 0; j < n; j++) {
        const t = A[k * n + j]!;
        A[k * n + j] = A[p * n + j]!;
        A[p * n + j] = t;
      }
      for (let j = 0; j < m; j++) {
        const t = B[k * m + j]!;
        B[k * m + j] = B[p * m + j]!;
        B[p * m + j] = t;
      }
    }
    for (let i = k + 1; i < n; i++) {
      const f = A[i * n + k]! / A[k * n + k]!;
      if (f === 0) continue;
      for (let j = k; j < n; j++) A[i * n + j]! -= f * A[k * n + j]!;
      for (let j = 0; j < m; j++) B[i * m + j]! -= f * B[k * m + j]!;
    }
  }
  for (let k = n - 1; k >= 0; k--) {
    for (let j = 0; j < m; j++) {
      let s = B[k * m + j]!;
      for (let i = k + 1; i < n; i++) s -= A[k * n + i]! * B[i * m + j]!;
      B[k * m + j] = s / A[k * n + k]!;
    }
  }
  return B;
}

/** The inverse of a 3 × 3 matrix. */
export const inverse3 = (a: readonly number[]): number[] =>
  Array.from(solveLinear(Float64Array.from(a), Float64Array.from([1, 0, 0, 0, 1, 0, 0, 0, 1]), 3));

/** 3 × 3 times a column of three. */
export const times3 = (
  m: readonly number[],
  v: readonly [number, number, number],
): [number, number, number] => [
  m[0]! * v[0] + m[1]! * v[1] + m[2]! * v[2],
  m[3]! * v[0] + m[4]! * v[1] + m[5]! * v[2],
  m[6]! * v[0] + m[7]! * v[1] + m[8]! * v[2],
];

/** 3 × 3 times 3 × 3. */
export function product3(a: readonly number[], b: readonly number[]): number[] {
  const c: number[] = [];
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      c.push(a[i * 3]! * b[j]! + a[i * 3 + 1]! * b[3 + j]! + a[i * 3 + 2]! * b[6 + j]!);
  return c;
}
