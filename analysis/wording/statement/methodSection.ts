import { formatDate } from "../formatDate.ts";
import { formatConfidence } from "../formatEstimate.ts";
import { type StatementSection, say } from "./document.ts";
import type { Sources } from "./sources.ts";

/** How each number was computed, with its source; what to quote to have it made again. */
export function methodSection({ statement }: Sources): StatementSection {
  const { provenance, contentHash, definition, beforeAfter } = statement;
  const notes = [
    "Failure rates: failures over hours under observation, exact Poisson bounds. Garwood (1936), Biometrika 28, 437-442.",
    "Runs not ended by the tool: exact binomial bounds (Clopper & Pearson 1934, Biometrika 26, 404-413) with the effective number of runs by tool (Korn & Graubard 1998, Survey Methodology 24, 193-201).",
    "Share still good: Weibull law by maximum likelihood from exact, right-, left- and interval-censored lives, bounds by likelihood ratio; without failures the exact bound of a success run. Meeker & Escobar (1998), Statistical Methods for Reliability Data, chapters 7 and 8 (from memory).",
    "Trend: Laplace's test and the chi-square test of MIL-HDBK-189C (2011); NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.3.4. Power-law shape with exact bounds: Crow (1974), IEC 61710.",
    "Mean time between failures is given only for one mode with at least 10 failures, the 90 % interval of the power-law shape inside 0.6 to 1.6 and silent trend tests (limits: common practice, no source).",
    ...(beforeAfter === null
      ? []
      : [
          "Before and after: exact conditional inference on the ratio of rates within bands of age. Breslow & Day (1987), Statistical Methods in Cancer Research II, IARC 82, chapter 3. Where failures lie on tools more unevenly than chance makes them (p below 0.05), bounds by tool: Liang & Zeger (1986), Biometrika 73, 13-22. Several comparisons: Holm (1979), Scandinavian J. Statistics 6, 65-70.",
        ]),
    `All bounds are ${formatConfidence(definition.confidence)} two-sided unless said otherwise.`,
    definition.masked
      ? "Tools, wells, crews, technicians, lots, records and other customers are called by aliases. A name has the same alias in every statement of this shop."
      : "Other customers are called by aliases; tools, wells and records by their names.",
  ];
  return {
    id: "method",
    title: "How this was computed",
    blocks: [
      { kind: "list", items: notes.map((note) => say`${note}`) },
      {
        kind: "table",
        id: "provenance",
        title: "To make this statement again",
        columns: [
          { title: "What", kind: "text" },
          { title: "Which", kind: "text" },
        ],
        rows: [
          ["Content of this statement", contentHash],
          ["Records", provenance.dataHash],
          ["Question and settings", provenance.studyHash],
          ["Engine version", provenance.engineVersion],
          ["Records used up to", formatDate(provenance.cutoff)],
        ],
        note: "The same records and settings give the same content, to the last digit. Each table and picture names the result it comes from.",
        result: contentHash.slice(0, 12),
      },
    ],
  };
}
