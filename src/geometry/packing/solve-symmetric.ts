/**
 * Solves A x = b in place for a symmetric positive definite A (row by row, size × size); b becomes
 * x and A its factor. False when A is not positive definite.
 * @source Cholesky's factorisation.
 */
export function solveSymmetric(a: Float64Array, b: Float64Array, size: number): boolean {
  for (let j = 0; j < size; j++) {
    let diagonal = a[j * size + j] as number;
    for (let k = 0; k < j; k++) {
      const value = a[j * size + k] as number;
      diagonal -= value * value;
    }
    if (!(diagonal > 0)) return false;
    const root = Math.sqrt(diagonal);
    a[j * size + j] = root;
    for (let i = j + 1; i < size; i++) {
      let value = a[i * size + j] as number;
      for (let k = 0; k < j; k++)
        value -= (a[i * size + k] as number) * (a[j * size + k] as number);
      a[i * size + j] = value / root;
    }
  }
  for (let i = 0; i < size; i++) {
    let value = b[i] as number;
    for (let k = 0; k < i; k++) value -= (a[i * size + k] as number) * (b[k] as number);
    b[i] = value / (a[i * size + i] as number);
  }
  for (let i = size - 1; i >= 0; i--) {
    let value = b[i] as number;
    for (let k = i + 1; k < size; k++) value -= (a[k * size + i] as number) * (b[k] as number);
    b[i] = value / (a[i * size + i] as number);
  }
  return true;
}
