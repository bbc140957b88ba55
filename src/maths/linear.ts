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

/**
 * Solves a symmetric system of n + m unknowns whose first n rows hold `diagonal`, `beside` next to it, and m columns
 * of `border`, and whose last m rows hold the border again and nothing else. Few steps for each unknown instead of
 * their square; the last of the n is left to the dense rest, so that second differences alone may be singular.
 */
export function solveBordered(
  diagonal: Float64Array,
  beside: number,
  border: readonly Float64Array[],
  b: Float64Array,
): Float64Array {
  const n = diagonal.length;
  const m = border.length;
  const k = n - 1;
  // Columns to be carried through: the last of the n, the border, the right side.
  const first = new Float64Array(k);
  first[k - 1] = beside;
  const carried = [first, ...border.map((c) => c.slice(0, k)), b.slice(0, k)];
  const pivot = new Float64Array(k);
  // Down: each row freed of what is beside it on the left.
  for (let i = 0; i < k; i++) {
    const f = i > 0 ? beside / pivot[i - 1]! : 0;
    pivot[i] = diagonal[i]! - f * beside;
    if (!(Math.abs(pivot[i]!) > 1e-12)) throw new Error('solveBordered: a pivot vanished');
    if (i > 0) for (const c of carried) c[i]! -= f * c[i - 1]!;
  }
  // Up.
  for (const c of carried)
    for (let i = k - 1; i >= 0; i--) c[i] = (c[i]! - (i < k - 1 ? beside * c[i + 1]! : 0)) / pivot[i]!;
  // What is left: the last of the n and the border.
  const size = m + 1;
  const left = [first.map(() => 0), ...border];
  left[0]![k - 1] = beside;
  const right = carried[size]!;
  const C = new Float64Array(size * size);
  const g = new Float64Array(size);
  for (let r = 0; r < size; r++) {
    const row = left[r]!;
    const sum = (c: Float64Array): number => {
      let t = 0;
      for (let i = 0; i < k; i++) t += row[i]! * c[i]!;
      return t;
    };
    for (let c = 0; c < size; c++) {
      const own = r === 0 ? (c === 0 ? diagonal[k]! : border[c - 1]![k]!) : c === 0 ? border[r - 1]![k]! : 0;
      C[r * size + c] = own - sum(carried[c]!);
    }
    g[r] = b[k + r]! - sum(right);
  }
  const y = solveLinear(C, g, size);
  const out = new Float64Array(n + m);
  for (let i = 0; i < k; i++) {
    let v = right[i]!;
    for (let c = 0; c < size; c++) v -= carried[c]![i]! * y[c]!;
    out[i] = v;
  }
  out.set(y, k);
  return out;
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
