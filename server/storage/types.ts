/** The shapes of `analysis/` that the store handles, gathered under one name. */
import type { DropPreview } from "../../analysis/index.ts";

export type {
  LineCounts,
  MappedRow,
  MappedSheet,
  Mapping,
  Origin,
  Problem,
  Records,
  RowRef,
  StorageErrorCode,
  StorageNoticeCode,
  StoredBatch,
  StoredRow,
  TableName,
  WordList,
} from "../../analysis/index.ts";

/** A row that no file holds, and why it is there. */
export type SetupRow = DropPreview["setup"][number];
