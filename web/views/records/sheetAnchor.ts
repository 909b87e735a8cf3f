import { type FilePreview, nameOfSheet } from "../../../analysis/index.ts";

/** Where on the page a sheet of the drop is shown in full. */
export const sheetAnchor = (file: Pick<FilePreview, "file" | "sheet">): string =>
  `sheet-${encodeURIComponent(nameOfSheet(file)).replace(/[^A-Za-z0-9]/g, "-")}`;
