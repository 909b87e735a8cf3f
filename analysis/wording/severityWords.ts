/** Severity of a finding in plain words, as a teardown table uses them. */
export interface SeverityWords {
  readonly severity: number;
  readonly name: string;
  readonly means: string;
}

/** The six steps, from as new to critical. Source: common practice of tool shops, no published source. */
export const severityWords: readonly SeverityWords[] = [
  { severity: 0, name: "none", means: "as new" },
  { severity: 1, name: "cosmetic", means: "reuse without work" },
  { severity: 2, name: "degraded", means: "would have done the next run" },
  { severity: 3, name: "major", means: "leaking or out of limits, but did its job" },
  { severity: 4, name: "failed", means: "stopped the job or caused a trip" },
  { severity: 5, name: "critical", means: "lost in hole, fishing, or could have hurt someone" },
];

/** "3 major". */
export const saySeverity = (severity: number): string => {
  const known = severityWords.find((each) => each.severity === severity);
  return known === undefined ? String(severity) : `${severity} ${known.name}`;
};
