/** Query parameters of the questions. An error message is a code that `sayRequestError` turns into words. */
import { auditRules, tableNames } from "../../analysis/index.ts";
import { groupBy } from "./parts.ts";
import { boundsChoice, lawChoice, missingHours, openAudit, practiceId, sides } from "./results.ts";
import { shapeWritten } from "./shapeWritten.ts";
import { z } from "./zod.ts";

const text = z.string({ error: "once" }).trim().min(1, "text").max(200, "text");

/** `YYYY-MM-DD` of a day that exists. */
function isDay(value: string): boolean {
  const day = new Date(`${value}T00:00:00Z`);
  return /^\d{4}-\d{2}-\d{2}$/.test(value) && !Number.isNaN(day.getTime()) && day.toISOString().startsWith(value);
}
const date = z.string({ error: "once" }).refine(isDay, "date").openapi({ format: "date" });

const numberWritten = (accepts: (value: number) => boolean, expected: string) =>
  z
    .string({ error: "once" })
    .refine((written) => written.trim() !== "" && accepts(Number(written)), expected)
    .transform(Number)
    .openapi({ type: "number" });
const positive = numberWritten((value) => Number.isFinite(value) && value > 0, "positive number");
const notNegative = numberWritten((value) => Number.isFinite(value) && value >= 0, "number from 0");
const wholeNumber = (least: number, most: number, expected: string) =>
  numberWritten((value) => Number.isInteger(value) && value >= least && value <= most, expected).openapi({
    type: "integer",
  });

/** What a question is about, and the settings a reader changes most. */
export const scopeQuery = {
  type: text.optional().openapi({ description: "Tool type." }),
  size: positive.optional().openapi({ description: "Nominal size in inches." }),
  item: text.optional().openapi({ description: "Item of the tool." }),
  mode: text.optional().openapi({ description: "Failure mode." }),
  serial: text.optional().openapi({ description: "Tool serial." }),
  customer: text.optional().openapi({ description: "Customer of the runs." }),
  from: date.optional().openapi({ description: "First date, included." }),
  to: date.optional().openapi({ description: "Last date, included." }),
};
export const settingsQuery = {
  confidence: numberWritten((value) => value > 0 && value < 1, "fraction")
    .optional()
    .openapi({ description: "Two-sided confidence of every bound, 0.9 if left out." }),
  age: positive.optional().openapi({ description: "Age in hours at which reliability is stated." }),
  missing: z
    .preprocess(
      (written) => (typeof written === "string" ? written.replaceAll("-", " ") : written),
      z.enum(missingHours.options, { error: "missing hours" }),
    )
    .optional()
    .openapi({
      description: "Treatment of hours that were not written down.",
      enum: missingHours.options,
      type: "string",
    }),
  audit: z
    .preprocess(
      (written) => (typeof written === "string" ? written.replaceAll("-", " ") : written),
      z.enum(openAudit.options, { error: "open audit" }),
    )
    .optional()
    .openapi({
      description: "What the audit doubts and nobody has settled: used unless left out.",
      enum: openAudit.options,
      type: "string",
    }),
};
/** How a life is read: the law, its bounds, and a shape from elsewhere. */
export const lifeQuery = {
  bounds: z
    .preprocess(
      (written) => (typeof written === "string" ? written.replaceAll("-", " ") : written),
      z.enum(boundsChoice.options, { error: "bounds" }),
    )
    .optional()
    .openapi({
      description: "How bounds are had. Left out: likelihood ratio, by serial where the tools are shown to differ.",
      enum: boundsChoice.options,
      type: "string",
    }),
  sides: z
    .enum(sides.options, { error: "sides" })
    .optional()
    .openapi({ description: "lower: one-sided lower bounds at the confidence, for claims. Both unless asked for." }),
  shape: shapeWritten
    .optional()
    .openapi({ description: 'A Weibull shape from elsewhere: "2", "1.5-3" (90 % sure) or "pooled".', type: "string" }),
  law: z
    .enum(lawChoice.options, { error: "law" })
    .optional()
    .openapi({ description: "Law that a life is read from: weibull unless asked for another." }),
};
export const formatQuery = {
  format: z
    .enum(["json", "csv"], { error: "format" })
    .optional()
    .openapi({ description: "json unless asked for csv." }),
};

/** What a decision is asked with. */
export const decisionQuery = {
  planned: positive.optional().openapi({ description: "Cost of a planned redress that finds nothing." }),
  failure: notNegative
    .optional()
    .openapi({ description: "Cost of a failure that stops a job, the redress after it included." }),
  found: notNegative.optional().openapi({ description: "What a defect found in the shop adds to a redress." }),
  risk: numberWritten((value) => value > 0 && value < 1, "fraction")
    .optional()
    .openapi({ description: "Chance of a job-stopping failure that is allowed, 0.1 if left out." }),
  run: positive.optional().openapi({ description: "Hours of the next run; the middle run in scope if left out." }),
  well: numberWritten((value) => value >= -50 && value <= 400, "degrees Celsius")
    .optional()
    .openapi({
      description:
        "Highest temperature of the next well, degC, where no planned run gives one; as the wells so far if left out.",
    }),
};

const inOrder = ({ from, to }: { from?: string | undefined; to?: string | undefined }) =>
  from === undefined || to === undefined || from <= to;
const orderError = { path: ["to"], message: "date order" };

export const itemLifeQuery = z
  .strictObject({
    ...scopeQuery,
    ...settingsQuery,
    ...lifeQuery,
    ...formatQuery,
    table: z
      .enum(["curve", "steps", "numbers"], { error: "table" })
      .optional()
      .openapi({ description: "Which table of the answer as CSV: the fitted curve unless asked for another." }),
  })
  .refine(inOrder, orderError);
export const lifePartQuery = z
  .strictObject({ ...scopeQuery, ...settingsQuery, ...lifeQuery })
  .refine(inOrder, orderError);
export const groupsQuery = z
  .strictObject({
    ...scopeQuery,
    ...settingsQuery,
    ...lifeQuery,
    by: z
      .preprocess(
        (written) => (typeof written === "string" ? written.replaceAll("-", " ") : written),
        z.enum(groupBy.options, { error: "group by" }),
      )
      .openapi({ description: "What the lives are told apart by.", enum: groupBy.options, type: "string" }),
    first: text.optional().openapi({ description: "A group, as the reply lists it; else the one with most failures." }),
    second: text.optional().openapi({ description: "The group it is compared with." }),
  })
  .refine(inOrder, orderError);
export const whatFailsQuery = z
  .strictObject({ ...scopeQuery, ...settingsQuery, ...formatQuery })
  .refine(inOrder, orderError);
export const redressIntervalQuery = z
  .strictObject({
    ...scopeQuery,
    ...settingsQuery,
    ...decisionQuery,
    ...formatQuery,
    table: z.enum(["curve", "modes", "heat", "since"], { error: "interval table" }).optional().openapi({
      description:
        "Which table of the answer as CSV: the curves unless asked for the modes, the heat, or what came of the decision since.",
    }),
  })
  .refine(inOrder, orderError);
export const fleetQuery = z
  .strictObject({
    ...scopeQuery,
    ...settingsQuery,
    ...decisionQuery,
    ...formatQuery,
    asof: date.optional().openapi({ description: "The board as it was on a past date, from what was known then." }),
  })
  .refine(inOrder, orderError);
export const buildPracticeQuery = z
  .strictObject({
    ...scopeQuery,
    ...settingsQuery,
    ...formatQuery,
    practice: z
      .enum(practiceId.options, { error: "practice" })
      .optional()
      .openapi({ description: "Practice to look at closely; the first of the list if left out." }),
    level: text.optional().openapi({ description: "The name that is held against all others, where it is no number." }),
    of: text.optional().openapi({ description: "Item, or kind of item, of that comparison." }),
    by: text.optional().openapi({ description: "Failure mode of that comparison." }),
    find: numberWritten((value) => value >= 0.1 && value <= 10 && value !== 1, "multiplier to find")
      .optional()
      .openapi({
        description: "Multiplier of life that a trial is to find; asks how many failures and runs that takes.",
      }),
    chance: numberWritten((value) => value >= 0.5 && value < 1, "chance to find")
      .optional()
      .openapi({ description: "Chance to find it; 0.8 if left out." }),
    assume: numberWritten((value) => value >= 0.2 && value <= 10, "shape to assume")
      .optional()
      .openapi({ description: "Weibull shape of the mode, where known from elsewhere; from the records if left out." }),
  })
  .refine(inOrder, orderError)
  .refine(
    ({ practice, of, by }) =>
      (practice === undefined) === (of === undefined) && (of === undefined) === (by === undefined),
    {
      path: ["practice"],
      message: "practice whole",
    },
  );
export const toolHistoryQuery = z.strictObject({ ...settingsQuery });
const several = z.preprocess(
  (written) => (written === undefined || Array.isArray(written) ? written : [written]),
  z.array(text).max(2_000, "text").optional(),
);
export const livesQuery = z
  .strictObject({
    ...scopeQuery,
    ...settingsQuery,
    ...formatQuery,
    study: text.optional().openapi({ description: "Hash of a study that was answered: its definition is used." }),
    id: several.openapi({ description: "Ids of lives; may be repeated.", type: "array", items: { type: "string" } }),
    kind: z
      .enum(["exact", "right", "left", "interval"], { error: "life kind" })
      .optional()
      .openapi({ description: "Only lives known in this way." }),
    offset: wholeNumber(0, Number.MAX_SAFE_INTEGER, "count").optional().openapi({ description: "Lives to skip." }),
    limit: wholeNumber(1, 1_000, "page size").optional().openapi({ description: "Lives in a reply, 100 if left out." }),
  })
  .refine(inOrder, orderError);
export const pageQuery = {
  offset: wholeNumber(0, Number.MAX_SAFE_INTEGER, "count").optional().openapi({ description: "Rows to skip." }),
  limit: wholeNumber(1, 1_000, "page size").optional().openapi({ description: "Rows in a reply, 100 if left out." }),
};
export const auditQuery = z.strictObject({ ...scopeQuery }).refine(inOrder, orderError);
export const auditRowsQuery = z
  .strictObject({
    ...scopeQuery,
    ...pageQuery,
    rule: z.enum(auditRules, { error: "audit rule" }).optional().openapi({ description: "Only doubts of this rule." }),
    table: z.enum(tableNames, { error: "table name" }).optional().openapi({ description: "Only about this table." }),
    column: text.optional().openapi({ description: 'Only about this column; "none": about rows as a whole.' }),
  })
  .refine(inOrder, orderError);
export const answersQuery = z.strictObject({
  ...pageQuery,
  state: z
    .enum(["applied", "stale", "superseded", "refused"], { error: "answer state" })
    .optional()
    .openapi({ description: "Only answers of which this became." }),
  contains: text
    .optional()
    .openapi({ description: "Only answers with this in who, why, rule, verdict or key of the row." }),
});
export const answerQuery = z.strictObject({
  preview: z
    .enum(["true", "false"], { error: "true or false" })
    .optional()
    .openapi({ description: "true: say what the answers would change, store nothing." }),
});
export const undoQuery = z.strictObject({
  preview: z
    .enum(["true", "false"], { error: "true or false" })
    .optional()
    .openapi({ description: "true: say what it would change, store nothing." }),
});
export const rowsQuery = z.strictObject({
  ref: z
    .preprocess(
      (written) => (Array.isArray(written) ? written : [written]),
      z.array(z.string("row reference")).min(1).max(500),
    )
    .openapi({
      description: "table:key, where key is the JSON array of the key fields; may be repeated.",
      type: "array",
      items: { type: "string" },
    }),
});

export const rowHistoryQuery = z.strictObject({
  ref: z.string({ error: "row reference" }).openapi({ description: "table:key, as in GET /api/rows." }),
  field: text.optional().openapi({ description: "Only this column of the row." }),
});

export type ScopeQuery = { readonly [K in keyof typeof scopeQuery]?: z.infer<(typeof scopeQuery)[K]> | undefined };
export type SettingsQuery = {
  readonly [K in keyof typeof settingsQuery]?: z.infer<(typeof settingsQuery)[K]> | undefined;
} & { readonly [K in keyof typeof lifeQuery]?: z.infer<(typeof lifeQuery)[K]> | undefined };
export type DecisionQuery = {
  readonly [K in keyof typeof decisionQuery]?: z.infer<(typeof decisionQuery)[K]> | undefined;
};
