/** What a change of one sheet's mapping means for the sheets of the same shape beside it. Pure. */
import { type DropAnswers, type FilePreview, type Mapping, nameOfSheet } from "../../analysis/index.ts";

/** Sheets of the drop that have the same headers, this one first. */
export const sheetsLike = (files: readonly FilePreview[], file: FilePreview): readonly FilePreview[] => [
  file,
  ...files.filter((each) => each !== file && each.mapping.fingerprint === file.mapping.fingerprint),
];

/**
 * The answer that reads a sheet, and all others with its headers, under a changed mapping: one shape is asked about once
 * and remembered once. How the cells of the others were cut out of their bytes stays their own.
 */
export function mappingEdit(
  files: readonly FilePreview[],
  file: FilePreview,
  mapping: Mapping,
): NonNullable<DropAnswers["mappings"]> {
  const edits = sheetsLike(files, file).map((each): readonly [string, Mapping] => {
    if (each === file) return [nameOfSheet(each), mapping];
    const { dateOrder, fillDown } = mapping.format;
    const { fillDown: _own, ...own } = each.mapping.format;
    return [
      nameOfSheet(each),
      { ...mapping, format: { ...own, dateOrder, ...(fillDown === undefined ? {} : { fillDown }) } },
    ];
  });
  return Object.fromEntries(edits);
}

/** A blank in these columns is not known, rather than as above. */
export const notFilledDown = (mapping: Mapping, headers: readonly string[]): Mapping => ({
  ...mapping,
  format: {
    ...mapping.format,
    fillDown: (mapping.format.fillDown ?? []).filter((header) => !headers.includes(header)),
  },
});

/** Dates of a column are written in this order. */
export const withDateOrder = (
  mapping: Mapping,
  header: string,
  order: Mapping["format"]["dateOrder"][string],
): Mapping => ({
  ...mapping,
  format: { ...mapping.format, dateOrder: { ...mapping.format.dateOrder, [header]: order } },
});
