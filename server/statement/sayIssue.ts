import { formatDate } from "../../analysis/index.ts";
import type { StatementIssue } from "./issue.ts";

/** Where a statement stands, as its first line says it. */
export function sayIssue(issue: StatementIssue): string {
  const { state, number, version, draftedBy, draftedOn, approvedBy, approvedOn, issuedBy, issuedOn } = issue;
  if (state === "preview") return "Preview: not stored, not approved, not for the customer.";
  const steps = [
    state === "draft" ? "DRAFT, not for the customer" : null,
    `drafted by ${draftedBy ?? "nobody"} on ${formatDate(draftedOn)}`,
    approvedBy === null ? "not approved" : `approved by ${approvedBy} on ${formatDate(approvedOn)}`,
    issuedBy === null ? "not issued" : `issued by ${issuedBy} on ${formatDate(issuedOn)}`,
  ].filter((step) => step !== null);
  return `Statement ${number}, version ${version}: ${steps.join("; ")}.`;
}
