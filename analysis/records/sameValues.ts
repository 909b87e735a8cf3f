/**
 * Compares two rows value by value; a field left out equals null. Arrays are compared in order.
 *
 * @returns null where they are the same, else the name of the first field that differs.
 */
export function sameValues(
  first: Readonly<Record<string, unknown>>,
  second: Readonly<Record<string, unknown>>,
): string | null {
  for (const name of new Set([...Object.keys(first), ...Object.keys(second)])) {
    if (!sameValue(written(first, name), written(second, name))) return name;
  }
  return null;
}

/** Whether two canonical values are the same. */
export const sameValue = (first: unknown, second: unknown): boolean =>
  first === second || JSON.stringify(first ?? null) === JSON.stringify(second ?? null);

const written = (row: Readonly<Record<string, unknown>>, name: string): unknown =>
  Object.hasOwn(row, name) ? (row[name] ?? null) : null;

/**
 * The first field in which two descriptions of one row contradict each other. What one of them leaves open (null, or
 * "not known") contradicts nothing.
 */
export function contradiction(
  first: Readonly<Record<string, unknown>>,
  second: Readonly<Record<string, unknown>>,
): string | null {
  for (const name of Object.keys(second)) {
    const [a, b] = [written(first, name), written(second, name)];
    if (!isOpen(a) && !isOpen(b) && !sameValue(a, b)) return name;
  }
  return null;
}

/** The first description with what it leaves open taken from the second. */
export function filledUp<T extends { readonly values: Readonly<Record<string, unknown>> }>(first: T, second: T): T {
  const more = Object.entries(second.values).filter(
    ([name, value]) => !isOpen(value) && isOpen(written(first.values, name)),
  );
  return more.length === 0
    ? first
    : { ...first, values: Object.fromEntries([...Object.entries(first.values), ...more]) };
}

const isOpen = (value: unknown): boolean => value === null || value === undefined || value === "not known";
