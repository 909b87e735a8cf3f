/** Largest value of a function with one top over log x in [low, high], by golden section: slow, obvious, no derivative. */
export function goldenMaximum(f: (x: number) => number, low: number, high: number, steps = 34): number {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [low, high];
  let c = b - ratio * (b - a);
  let d = a + ratio * (b - a);
  let [atC, atD] = [f(Math.exp(c)), f(Math.exp(d))];
  for (let i = 0; i < steps; i++) {
    if (atC > atD) {
      b = d;
      [d, atD] = [c, atC];
      c = b - ratio * (b - a);
      atC = f(Math.exp(c));
    } else {
      a = c;
      [c, atC] = [d, atD];
      d = a + ratio * (b - a);
      atD = f(Math.exp(d));
    }
  }
  return Math.max(atC, atD);
}
