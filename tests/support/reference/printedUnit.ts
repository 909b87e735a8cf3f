/** Half a unit of the last digit with which a number is printed: 2.102 -> 0.0005, 28701 -> 0.5. */
export function halfPrintedUnit(printed: number): number {
  const [, decimals = ""] = String(printed).split(".");
  return 0.5 * 10 ** -decimals.length;
}
