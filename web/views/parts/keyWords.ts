/** The key of a row as a person reads it: `["R-12","J1"]` as "R-12, J1". */
export function keyWords(key: string): string {
  const parts: unknown = JSON.parse(key);
  return Array.isArray(parts) ? parts.filter((part) => part !== null).join(", ") : key;
}
