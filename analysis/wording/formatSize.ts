import { formatExact } from "./formatNumber.ts";

/** A nominal size as the trade says it: 6.5 is "6 1/2 in", 4.75 is "4 3/4 in". Not a 64th: decimals. */
export function formatSize(sizeIn: number | null): string {
  if (sizeIn === null) return "size not known";
  const whole = Math.floor(sizeIn);
  let [over, under] = [Math.round((sizeIn - whole) * 64), 64];
  if (Math.abs(whole + over / 64 - sizeIn) > 1e-6 || over === 64) return `${formatExact(sizeIn)} in`;
  if (over === 0) return `${whole} in`;
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  return whole === 0 ? `${over}/${under} in` : `${whole} ${over}/${under} in`;
}
