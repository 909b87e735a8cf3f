/**
 * Name of plain data by its content: 32 hexadecimal digits, the same whatever the order of object keys.
 * Four 32-bit multiply-and-mix lanes; for telling results apart, not for security.
 */
export function contentHash(value: unknown): string {
  const text = canonical(value);
  const lanes = [0x9e3779b9, 0x85ebca6b, 0xc2b2ae35, 0x27d4eb2f];
  const factors = [0x01000193, 0x5bd1e995, 0xcc9e2d51, 0x1b873593];
  for (let index = 0; index < text.length; index++) {
    const code = text.charCodeAt(index);
    for (let lane = 0; lane < 4; lane++) lanes[lane] = Math.imul(lanes[lane]! ^ (code + lane), factors[lane]!);
  }
  return lanes.map((lane) => finish(lane, text.length).toString(16).padStart(8, "0")).join("");
}

function finish(lane: number, length: number): number {
  let mixed = lane ^ length;
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
  return (mixed ^ (mixed >>> 16)) >>> 0;
}

/** JSON with sorted keys; fields that are undefined are left out, as JSON does. */
function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (value !== null && typeof value === "object") {
    const entries = Object.entries(value)
      .filter(([, field]) => field !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1));
    return `{${entries.map(([key, field]) => `${JSON.stringify(key)}:${canonical(field)}`).join(",")}}`;
  }
  return JSON.stringify(value) ?? "null";
}
