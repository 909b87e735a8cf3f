/**
 * A short name for the shape of a sheet: 16 hexadecimal digits of its fingerprint. FNV-1a, 64 bit (Fowler, Noll & Vo;
 * IETF draft-eastlake-fnv), over UTF-16 code units. A name, not a secret.
 */
export function shapeId(fingerprint: string): string {
  let hash = 0xcbf29ce484222325n;
  for (let i = 0; i < fingerprint.length; i++) {
    hash = BigInt.asUintN(64, (hash ^ BigInt(fingerprint.charCodeAt(i))) * 0x100000001b3n);
  }
  return hash.toString(16).padStart(16, "0");
}
