/** A value with its first and second derivatives by m coordinates, summed up in place. */
export interface Jet {
  value: number;
  readonly gradient: Float64Array;
  /** m x m. */
  readonly hessian: Float64Array;
  clear(): void;
}

export function jet(m: number): Jet {
  const gradient = new Float64Array(m);
  const hessian = new Float64Array(m * m);
  return {
    value: 0,
    gradient,
    hessian,
    clear() {
      this.value = 0;
      gradient.fill(0);
      hessian.fill(0);
    },
  };
}

/** Adds weight v w' (v v' where w is left out) to a square matrix. */
export function addOuter(matrix: Float64Array, weight: number, v: Float64Array, w: Float64Array = v): void {
  const m = v.length;
  for (let a = 0; a < m; a++) {
    const scaled = weight * v[a]!;
    if (scaled === 0) continue;
    for (let b = 0; b < m; b++) matrix[a * m + b]! += scaled * w[b]!;
  }
}
