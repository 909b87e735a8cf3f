/** What can be wrong with a request or a command, apart from what the engine refuses. Codes with facts, worded here. */
export type RequestErrorCode =
  | "bad-parameter"
  | "bad-body"
  | "no-such-address"
  | "life-not-found"
  | "batch-not-found"
  | "statement-not-found"
  | "row-not-found"
  | "drop-not-found"
  | "drop-not-ready"
  | "form-not-ready"
  | "drop-being-stored"
  | "drop-being-read"
  | "drop-cancelled"
  | "drop-too-slow"
  | "drop-too-much"
  | "sheet-not-found"
  | "nothing-dropped"
  | "upload-refused"
  | "file-too-large"
  | "too-many-files"
  | "drop-too-large"
  | "initials-missing"
  | "host-refused"
  | "cross-site-refused"
  | "too-many-requests"
  | "too-many-drops"
  | "study-too-long"
  | "study-cancelled"
  | "shutting-down"
  | "unexpected";

export type RequestErrorFacts = Readonly<Record<string, string | number | null>>;

/** What a parameter takes, by the code that its contract gives. */
const takes: Readonly<Record<string, string>> = {
  text: "takes some text of at most 200 characters",
  "positive number": "takes a number above 0",
  "number from 0": "takes a number, 0 or more",
  "degrees Celsius": "takes a temperature in °C, from -50 to 400",
  "interval table": "takes curve, modes, heat or since",
  fraction: "takes a number above 0 and below 1, such as 0.9",
  date: "takes a date written YYYY-MM-DD",
  "date order": "takes a date on or after `from`",
  "missing hours": "takes shop rate, averaged, all low, all high or left out",
  "open audit": "takes used or left out",
  "group by": "takes size, tool type, elastomer, backup ring, customer or period",
  bounds: "takes likelihood ratio, by serial or Wald",
  sides: "takes both or lower",
  shape: 'takes a number such as 2, a range such as 1.5-3, or "pooled"',
  law: "takes weibull, lognormal, exponential, loglogistic, gamma, generalised gamma, smallest extreme value, normal or three-parameter weibull",
  "audit rule": "takes the name of an audit rule, as GET /api/audit gives it",
  "answer state": "takes applied, stale, superseded or refused",
  "field name": "takes the name of a column of the table",
  "table name": "takes the name of a table, such as runs",
  "true or false": "takes true or false",
  "row reference": 'takes table:key, such as runs:["R1"]',
  count: "takes a whole number, 0 or more",
  "page size": "takes a whole number from 1 to 1,000",
  format: "takes json or csv",
  "life kind": "takes exact, right, left or interval",
  practice: "takes the name of a practice, such as corrected torque",
  "multiplier to find": "must be a multiplier of life from 0.1 to 10, not 1",
  "chance to find": "must be a chance from 0.5 to below 1",
  "shape to assume": "must be a Weibull shape from 0.2 to 10",
  "practice whole": "takes `of` and `by` beside it: the item, or kind of item, and the failure mode",
  table: "takes curve, steps or numbers",
  once: "is given more than once and takes one value",
  unknown: "is not a parameter of this address",
};

const sentences: Readonly<Record<RequestErrorCode, (facts: RequestErrorFacts) => string>> = {
  "bad-parameter": ({ parameter, value, expected }) =>
    `The parameter "${parameter}" ${takes[String(expected)] ?? "is not understood"}${
      value === null || value === undefined || expected === "unknown" ? "" : `; it was "${value}"`
    }. Correct it and ask again.`,
  "bad-body": ({ place, problem }) =>
    `What was sent is not understood${place === null || place === "" || place === undefined ? "" : ` at "${place}"`}: ${problem}. Correct it and send it again.`,
  "no-such-address": ({ address }) => `Nothing answers at ${address}. The list of addresses is at /api/openapi.json.`,
  "life-not-found": ({ life }) =>
    `There is no life "${life}" in the present records. They may have changed since the link was made; ask the question again.`,
  "row-not-found": ({ table, key }) =>
    `No drop ever held the row ${key} of ${table}. A row is named by the JSON array of its key, such as ["R1"].`,
  "batch-not-found": ({ batch }) => `There is no batch ${batch}. The stored batches are listed under Records.`,
  "statement-not-found": ({ what }) =>
    `This ${what ?? "statement"} is not there. A preview is kept for a while only; make it again.`,
  "drop-not-found": () =>
    "This drop is no longer held: it was stored, taken back, or left for too long. Drop the files again.",
  "drop-not-ready": ({ open, question }) =>
    `${open === 1 ? "One question is" : `${open} questions are`} still to be confirmed before this can be stored. The first: ${question}`,
  "form-not-ready": ({ column, value, problem }) =>
    `The form cannot be stored yet: ${column === null ? "a value" : `"${column}"`}${value === null ? " is not right or not written" : ` does not take "${value}"`} (${problem}). Correct it and store again.`,
  "drop-being-stored": () => "This drop is being stored already. Wait for it to finish.",
  "drop-being-read": ({ share }) =>
    `This drop is still being read (${Math.round(Number(share ?? 0) * 100)} % done). Wait for it to finish, or take it back.`,
  "drop-cancelled": () => "The drop was taken back while it was being read. Nothing was stored.",
  "drop-too-slow": ({ seconds }) =>
    `Reading the drop took longer than ${seconds} seconds and was stopped. Split the sheets and drop the parts one after the other.`,
  "drop-too-much": () =>
    "Reading the drop needed more memory than is set aside for it and was stopped. Split the sheets and drop the parts one after the other.",
  "sheet-not-found": ({ file, tab }) =>
    `There is no sheet ${tab === null || tab === undefined ? `"${file}"` : `"${file}", tab "${tab}"`} there. Choose one of those listed.`,
  "nothing-dropped": () => "No file came with the drop. Choose one or more sheets and drop them again.",
  "upload-refused": ({ reason }) =>
    `The upload is not understood (${reason}). Send the sheets as files in the field "files".`,
  "file-too-large": ({ megabytes }) =>
    `A file is larger than ${megabytes} MB. Save the sheet in parts, or leave out what is not records, and drop it again.`,
  "too-many-files": ({ files }) => `More than ${files} files were dropped at once. Drop them in several parts.`,
  "drop-too-large": ({ megabytes }) =>
    `The files dropped together are larger than ${megabytes} MB. Drop them in several parts.`,
  "initials-missing": () =>
    "Who is answering? Give your initials (one to twelve letters) so that the records can say who confirmed this drop.",
  "host-refused": ({ host }) =>
    `This program answers only under the address it printed when it started, not under "${host}". Use that address.`,
  "cross-site-refused": () => "A change may only be asked for from Afterrun's own page. Open it there and try again.",
  "too-many-requests": () => "Too many requests in a short time. Wait a minute and try again.",
  "too-many-drops": ({ drops }) =>
    `${drops} drops are waiting to be stored. Store one or take one back, then drop these files again.`,
  "study-too-long": ({ seconds }) =>
    `The answer was not ready after ${seconds} seconds and was stopped. Narrow the question, to one item or a shorter time, and ask again.`,
  "study-cancelled": () => "The question was taken back before its answer was ready.",
  "shutting-down": () => "Afterrun is closing. Start it again and ask once more.",
  unexpected: () =>
    "Something went wrong that should not have. Nothing was changed. Try again; if it stays, look at the last lines the program printed.",
};

/** One sentence, or two, for a refused request: what is wrong, where, what to do. */
export function sayRequestError(code: RequestErrorCode, facts: RequestErrorFacts): string {
  return sentences[code](facts);
}
