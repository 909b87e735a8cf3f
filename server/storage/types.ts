/** The shapes of `analysis/` that the store handles, gathered under one name. */
import type { Answer, DropPreview } from "../../analysis/index.ts";

export type {
  Answer,
  Correction,
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
  UndoneRow,
  UndoPreview,
  WordList,
} from "../../analysis/index.ts";

/** A row that no file holds, and why it is there. */
export type SetupRow = DropPreview["setup"][number];

/** An answer before it is known who gave it and when. */
export type AnswerGiven = Omit<Answer, "who" | "when">;
