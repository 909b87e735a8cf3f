/** What a serial number says by how it is built. */
export interface SerialPattern {
  /** Letters it begins with, upper case; empty where it begins with a digit. */
  readonly prefix: string;
  /** Nominal size in inches out of a block of digits ("AD650-014" is 6.5), null where none is there. */
  readonly sizeIn: number | null;
}

/** Nominal tool sizes in hundredths of an inch that serial numbers carry (common practice, no source). */
const sizes = new Set([
  287, 312, 337, 350, 412, 475, 500, 575, 625, 650, 675, 700, 725, 775, 800, 825, 900, 950, 962, 1125,
]);

/** Takes a serial number apart. */
export function serialPattern(serial: string): SerialPattern {
  const match = /^\s*([\p{L}]*)[-_ /.]*(\d{3,4})?(?!\d)/u.exec(serial);
  const digits = Number(match?.[2] ?? Number.NaN);
  const followed = match !== null && /^[-_ /.]/.test(serial.slice(match[0].length));
  return { prefix: (match?.[1] ?? "").toUpperCase(), sizeIn: followed && sizes.has(digits) ? digits / 100 : null };
}
