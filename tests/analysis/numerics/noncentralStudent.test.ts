// mpmath 1.3.0, mp.dps = 30: quad of exp(c + (df-1) log s - df s^2/2) ncdf(x s - d) over s, c = log 2 + df/2 log(df/2) - loggamma(df/2).
import { expect, test } from "vitest";
import { noncentralStudentCdf, noncentralStudentQuantile, studentCdf } from "../../../analysis/numerics/index.ts";

test.each([
  [-6, 3, 2, 3.345823881252484e-5],
  [0.5, 40, 5, 3.4609350069175886e-6],
  [12, 200, 10, 0.9558638722416216],
  [30, 1, 3, 0.9203782316100194],
  [-80, 7, 1.5, 5.47341787255402e-14],
])("P(T <= %d) with %d degrees of freedom, delta %d", (x, df, delta, expected) => {
  expect(Math.abs(noncentralStudentCdf(x, df, delta) / expected - 1)).toBeLessThan(1e-12);
});

test("delta 0 is Student's t, and the quantile inverts both tails", () => {
  for (const x of [-5, -1, 0, 2]) {
    expect(Math.abs(noncentralStudentCdf(x, 4, 0) / studentCdf(x, 4) - 1)).toBeLessThan(1e-12);
  }
  for (const p of [1e-8, 0.05, 0.5, 0.99]) {
    const x = noncentralStudentQuantile(p, 9, 2.5);
    expect(Math.abs(noncentralStudentCdf(x, 9, 2.5) / p - 1)).toBeLessThan(1e-9);
  }
  expect(noncentralStudentQuantile(0, 9, 2.5)).toBeNaN();
});
