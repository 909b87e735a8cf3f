/** Ticks a person would choose. */
const hourSteps = [5, 10, 25, 50, 100, 250, 500, 1000, 2500, 5000, 10000, 25000, 50000];

/** From 0 to at most `to`, in steps of 5, 10, 25, 50, 100, 250, 500, 1,000 ... hours, about `count` of them. */
export function hourTicks(to: number, count: number): number[] {
  const step =
    hourSteps.find((candidate) => Math.floor(to / candidate) <= count) ?? 10 ** Math.ceil(Math.log10(to / count));
  return Array.from({ length: Math.floor(to / step + 1e-9) + 1 }, (_, index) => index * step);
}

/** From 0 to at most `to` in steps of 1, 2 or 5 times a power of ten, about `count` of them. */
export function evenTicks(to: number, count: number): number[] {
  if (!(to > 0)) return [0];
  const rough = to / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 5, 10].find((factor) => factor * power >= rough * 0.999) ?? 10) * power;
  return Array.from({ length: Math.floor(to / step + 1e-9) + 1 }, (_, index) => Number((index * step).toPrecision(12)));
}

/** 1, 2, 5 times powers of ten between two positive ages; over a short reach more of them, over a long one the powers alone. */
export function logTicks(from: number, to: number, width = 640): number[] {
  const all = (factors: readonly number[]): number[] => {
    const ticks: number[] = [];
    for (let power = Math.floor(Math.log10(from)); power <= Math.ceil(Math.log10(to)); power++) {
      for (const factor of factors) {
        const tick = factor * 10 ** power;
        if (tick >= from * 0.999 && tick <= to * 1.001) ticks.push(Number(tick.toPrecision(12)));
      }
    }
    return ticks;
  };
  const usual = all([1, 2, 5]);
  return usual.length < 5 && width >= 400 ? all([1, 1.5, 2, 3, 4, 5, 7]) : usual.length > 11 ? all([1]) : usual;
}
