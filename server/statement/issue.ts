/** Where a statement stands on its way to the customer: printed on it, and no part of its content hash. */
export interface StatementIssue {
  readonly state: "preview" | "draft" | "approved" | "issued";
  readonly number: number | null;
  readonly version: number | null;
  readonly draftedBy: string | null;
  readonly draftedOn: string | null;
  readonly approvedBy: string | null;
  readonly approvedOn: string | null;
  readonly issuedBy: string | null;
  readonly issuedOn: string | null;
  /** What changed since the last statement, in words; empty without one. */
  readonly changes: readonly string[];
}

export const previewIssue: StatementIssue = {
  state: "preview",
  number: null,
  version: null,
  draftedBy: null,
  draftedOn: null,
  approvedBy: null,
  approvedOn: null,
  issuedBy: null,
  issuedOn: null,
  changes: [],
};
