import { OpenAPIRegistry, OpenApiGeneratorV31 } from "@asteasolutions/zod-to-openapi";
import { setAsideQuery } from "../routes/setAsideQuery.ts";
import {
  batchReply,
  dropAnswers,
  dropPreview,
  dropProgress,
  errorReply,
  livesReply,
  pastedSheet,
  rowsReply,
  stateReply,
  storedBatch,
  storedRow,
  undoReply,
} from "./api.ts";
import {
  answersListReply,
  answersPreview,
  answersReply,
  auditAnswers,
  auditReply,
  auditRowsReply,
  rowHistoryReply,
} from "./audit.ts";
import { buildPracticeResult } from "./buildPractice.ts";
import { fleetResult, redressIntervalResult } from "./decisions.ts";
import { formBody, formPreview, formPreviewBody } from "./forms.ts";
import { life } from "./lives.ts";
import { fitChecks, groupsCompared, lookSensitivity } from "./parts.ts";
import {
  answerQuery,
  answersQuery,
  auditQuery,
  auditRowsQuery,
  buildPracticeQuery,
  fleetQuery,
  groupsQuery,
  itemLifeQuery,
  lifePartQuery,
  livesQuery,
  redressIntervalQuery,
  rowHistoryQuery,
  rowsQuery,
  toolHistoryQuery,
  undoQuery,
  whatFailsQuery,
} from "./questions.ts";
import { mapping, tableName } from "./records.ts";
import { itemLifeResult, studyDefinition, toolHistoryResult, whatFailsResult } from "./results.ts";
import { setupBundle, setupEntry, setupReply } from "./setup.ts";
import {
  statementDefinition,
  statementDraftBody,
  statementEntry,
  statementPreview,
  statementsReply,
} from "./statements.ts";
import { z } from "./zod.ts";

interface RouteDescription {
  readonly method: "get" | "post" | "delete";
  readonly path: string;
  readonly summary: string;
  readonly query?: z.ZodObject;
  readonly params?: z.ZodObject;
  readonly body?: z.ZodType;
  readonly files?: true;
  readonly reply?: z.ZodType;
  readonly csv?: true;
  readonly status?: number;
  /** Error statuses beside 400. */
  readonly errors?: readonly number[];
}

/** The OpenAPI 3.1 document, generated from the contracts that requests are checked against. */
export function openApiDocument(): object {
  const registry = new OpenAPIRegistry();
  const named = <S extends z.ZodType>(name: string, schema: S): S => registry.register(name, schema);
  const errors = named("ErrorReply", errorReply);
  named("StoredRow", storedRow);
  const rows = named("RowsReply", rowsReply);
  named("Life", life);
  const lives = named("LivesReply", livesReply);
  const itemLife = named("ItemLifeResult", itemLifeResult);
  const whatFails = named("WhatFailsResult", whatFailsResult);
  const toolHistory = named("ToolHistoryResult", toolHistoryResult);
  const fleet = named("FleetResult", fleetResult);
  const redressInterval = named("RedressIntervalResult", redressIntervalResult);
  named("AnswersPreview", answersPreview);
  const buildPractice = named("BuildPracticeResult", buildPracticeResult);
  const batch = named("StoredBatch", storedBatch);
  const preview = named("DropPreview", dropPreview);
  const progress = named("DropProgress", dropProgress);
  const dropId = z.object({ id: z.string() });
  const batchId = z.object({ id: z.string().openapi({ description: "Number of the batch." }) });
  const initials = z.object({ who: z.string().openapi({ description: "Initials of who confirms." }) }).partial();

  const statementPlace = z.object({ statement: z.string(), version: z.string() });
  const statementFiles =
    "statement.html, .pdf, .xlsx, .pptx, .zip or .json; a table by its id, .csv; a picture by its id, .svg or .png";

  const routes: readonly RouteDescription[] = [
    {
      method: "get",
      path: "/api/state",
      summary: "What is stored, and what can be asked",
      reply: named("StateReply", stateReply),
    },
    {
      method: "get",
      path: "/api/item-life",
      summary: "How long does this item last, this mode?",
      query: itemLifeQuery,
      reply: itemLife,
      csv: true,
      errors: [409, 422, 503],
    },
    {
      method: "get",
      path: "/api/item-life/checks",
      summary: "Does the curve fit? As text/event-stream with its progress",
      query: lifePartQuery,
      reply: named("FitChecks", fitChecks),
      errors: [409, 422, 503],
    },
    {
      method: "get",
      path: "/api/item-life/looks",
      summary: "What if inspections were no accident, or missed something?",
      query: lifePartQuery,
      reply: named("LookSensitivity", lookSensitivity),
      errors: [409, 422, 503],
    },
    {
      method: "get",
      path: "/api/item-life/groups",
      summary: "Do two groups of the lives last alike?",
      query: groupsQuery,
      reply: named("GroupsCompared", groupsCompared),
      errors: [409, 422, 503],
    },
    {
      method: "get",
      path: "/api/what-fails",
      summary: "What fails, and where in the tool?",
      query: whatFailsQuery,
      reply: whatFails,
      csv: true,
      errors: [409, 422, 503],
    },
    {
      method: "get",
      path: "/api/fleet",
      summary: "Which tool may go out? Advice, never a clearance. As text/event-stream, how far it is as well",
      query: fleetQuery,
      reply: fleet,
      csv: true,
      errors: [409, 422, 503],
    },
    {
      method: "get",
      path: "/api/redress-interval",
      summary: "When do we redress? As text/event-stream, how far it is as well",
      query: redressIntervalQuery,
      reply: redressInterval,
      csv: true,
      errors: [409, 422, 503],
    },
    {
      method: "get",
      path: "/api/build-practice",
      summary: "What in the build makes the difference? As text/event-stream, how far it is as well",
      query: buildPracticeQuery,
      reply: buildPractice,
      csv: true,
      errors: [409, 422, 503],
    },
    {
      method: "get",
      path: "/api/tools/{serial}",
      summary: "What is the story of this serial?",
      params: z.object({ serial: z.string() }),
      query: toolHistoryQuery,
      reply: toolHistory,
      errors: [404, 409, 503],
    },
    {
      method: "post",
      path: "/api/studies",
      summary: "A question with all its settings",
      body: named("StudyDefinition", studyDefinition),
      reply: z.union([itemLife, whatFails, toolHistory, buildPractice, redressInterval, fleet]),
      errors: [404, 409, 422, 503],
    },
    {
      method: "get",
      path: "/api/lives",
      summary: "Lives of a scope, a page at a time, or by id",
      query: livesQuery,
      reply: lives,
      csv: true,
      errors: [404, 409, 503],
    },
    {
      method: "get",
      path: "/api/rows",
      summary: "Stored rows with the cells they came from; what is not stored is named",
      query: rowsQuery,
      reply: rows,
    },
    {
      method: "get",
      path: "/api/setup",
      summary: "Words, item list, modes, compounds and mappings, as one file",
      reply: named("SetupBundle", setupBundle),
    },
    {
      method: "post",
      path: "/api/setup",
      summary: "Take such a file in, as one batch; with preview=true only say what it would change (200)",
      query: undoQuery,
      body: named("SetupEntry", setupEntry),
      reply: named("SetupReply", setupReply),
      status: 201,
      errors: [422],
    },
    {
      method: "get",
      path: "/api/rows/history",
      summary: "What became of a row or of one cell: drops, forms, undos and answers, with who, when and why",
      query: rowHistoryQuery,
      reply: named("RowHistoryReply", rowHistoryReply),
      errors: [404],
    },
    {
      method: "post",
      path: "/api/drops",
      summary:
        "Drop sheets, text or workbooks: nothing is stored yet. With Prefer: respond-async, 202 and how far it is",
      files: true,
      reply: preview,
      status: 201,
      errors: [409, 413],
    },
    {
      method: "post",
      path: "/api/drops/paste",
      summary: "Drop cells copied from a spreadsheet, as text",
      body: named("PastedSheet", pastedSheet),
      reply: preview,
      status: 201,
      errors: [409, 413, 422],
    },
    {
      method: "get",
      path: "/api/drops/{id}/set-aside.csv",
      summary: "The lines of a sheet that would be set aside, to be repaired and dropped again",
      params: dropId,
      query: setAsideQuery,
      csv: true,
      errors: [404, 409],
    },
    {
      method: "get",
      path: "/api/drops/{id}",
      summary: "What a drop would store, or how far its reading is; as text/event-stream, both as they come",
      params: dropId,
      reply: z.union([preview, progress]),
      errors: [404],
    },
    {
      method: "delete",
      path: "/api/drops/{id}",
      summary: "Take a drop back",
      params: dropId,
      status: 204,
      errors: [404],
    },
    {
      method: "post",
      path: "/api/drops/{id}/answers",
      summary: "Confirm or change what was proposed",
      params: dropId,
      body: named("DropAnswers", dropAnswers),
      reply: preview,
      errors: [404, 409],
    },
    {
      method: "post",
      path: "/api/drops/{id}/store",
      summary: "Store a drop as one batch",
      params: dropId,
      body: initials,
      reply: batch,
      status: 201,
      errors: [404, 409],
    },
    {
      method: "post",
      path: "/api/forms/preview",
      summary: "What rows written in a form would become; nothing is stored",
      body: formPreviewBody,
      reply: named("FormPreview", formPreview),
    },
    {
      method: "post",
      path: "/api/forms",
      summary: "Store rows written in a form, as one batch like any sheet",
      body: formBody,
      reply: batch,
      status: 201,
      errors: [422],
    },
    {
      method: "get",
      path: "/api/forms/{table}",
      summary: "Rows of a table as stored, for a form that puts one right",
      params: z.object({ table: tableName }),
      reply: z.array(z.record(z.string(), z.unknown())),
      errors: [404],
    },
    {
      method: "get",
      path: "/api/mappings",
      summary: "Mappings confirmed so far: the newest version of each shape of sheet",
      reply: z.array(mapping),
    },
    { method: "get", path: "/api/batches", summary: "Stored batches, oldest first", reply: z.array(batch) },
    {
      method: "get",
      path: "/api/batches/{id}",
      summary: "A batch with its problems and the lines set aside",
      params: batchId,
      reply: named("BatchReply", batchReply),
      errors: [404],
    },
    {
      method: "get",
      path: "/api/batches/{id}/set-aside.csv",
      summary: "The lines of a batch that were set aside",
      params: batchId,
      csv: true,
      errors: [404],
    },
    {
      method: "get",
      path: "/api/batches/{id}/repair.csv",
      summary: "The lines of a stored sheet that were set aside, to be repaired and dropped again",
      params: batchId,
      query: setAsideQuery,
      csv: true,
      errors: [404],
    },
    {
      method: "post",
      path: "/api/batches/{id}/undo",
      summary: "Take a batch back, as a batch of its own; with preview=true only say what it would change",
      params: batchId,
      query: undoQuery,
      body: initials,
      reply: named("UndoReply", undoReply),
      status: 201,
      errors: [404, 409],
    },
    {
      method: "get",
      path: "/api/audit",
      query: auditQuery,
      summary: "What the records leave in doubt, by rule and column, those that touch the most lives first",
      reply: named("AuditReply", auditReply),
      errors: [503],
    },
    {
      method: "get",
      path: "/api/audit/rows",
      summary: "Open doubts, a page at a time",
      query: auditRowsQuery,
      reply: named("AuditRowsReply", auditRowsReply),
      errors: [503],
    },
    {
      method: "get",
      path: "/api/audit/answers",
      summary: "Everything decided so far, the latest first",
      query: answersQuery,
      reply: named("AnswersListReply", answersListReply),
    },
    {
      method: "post",
      path: "/api/audit/answers",
      summary:
        "Accept, correct, exclude or reopen cells and rows: all answers sent are stored, or none; with preview=true only say what they would change (AnswersPreview, 200)",
      query: answerQuery,
      body: named("AuditAnswers", auditAnswers),
      reply: named("AnswersReply", answersReply),
      status: 201,
      errors: [409, 422],
    },
    {
      method: "get",
      path: "/api/statements",
      summary: "Stored statements, the latest first, and what a statement may be about",
      reply: named("StatementsReply", statementsReply),
    },
    {
      method: "post",
      path: "/api/statements/preview",
      summary: "Make a statement without storing it; as text/event-stream, with how far it is",
      body: named("StatementDefinition", statementDefinition),
      reply: named("StatementPreview", statementPreview),
      errors: [404, 409, 422, 503],
    },
    {
      method: "get",
      path: "/api/statements/preview/{id}/{file}",
      summary: `A file of a preview: ${statementFiles}`,
      params: z.object({ id: z.string(), file: z.string() }),
      csv: true,
      errors: [404, 503],
    },
    {
      method: "post",
      path: "/api/statements",
      summary: "Make a statement and store it as a draft, of a new statement or the next version of one",
      body: named("StatementDraftBody", statementDraftBody),
      reply: named("StatementEntry", statementEntry),
      status: 201,
      errors: [404, 409, 422, 503],
    },
    {
      method: "post",
      path: "/api/statements/{statement}/{version}/approve",
      summary: "Approve the newest version of a statement",
      params: statementPlace,
      body: initials,
      reply: statementEntry,
      status: 201,
      errors: [404, 409],
    },
    {
      method: "post",
      path: "/api/statements/{statement}/{version}/issue",
      summary: "Issue an approved version",
      params: statementPlace,
      body: initials,
      reply: statementEntry,
      status: 201,
      errors: [404, 409],
    },
    {
      method: "get",
      path: "/api/statements/{statement}/{version}/{file}",
      summary: `A file of a stored statement: ${statementFiles}`,
      params: statementPlace.extend({ file: z.string() }),
      csv: true,
      errors: [404, 503],
    },
    {
      method: "get",
      path: "/api/backup",
      summary: "The journal and every file dropped, packed into one file that `restore` reads",
      errors: [503],
    },
    {
      method: "get",
      path: "/api/export.zip",
      summary: "Everything stored as CSV files with a descriptor, packed",
      errors: [503],
    },
    { method: "get", path: "/api/openapi.json", summary: "This description", reply: z.record(z.string(), z.unknown()) },
  ];

  for (const route of routes) registry.registerPath(pathOf(route, errors));
  return new OpenApiGeneratorV31(registry.definitions).generateDocument({
    openapi: "3.1.0",
    info: {
      title: "Afterrun",
      version: "1",
      description:
        "Failure analysis and reliability statistics of a shop's own records. Readings are advice only: the maker's manual, local codes and licensed practice govern.",
    },
    servers: [{ url: "/" }],
  });
}

function pathOf(route: RouteDescription, errors: z.ZodType) {
  const { method, path, summary, query, params, body, files, reply, csv, status = 200 } = route;
  const upload = z.object({
    files: z.array(z.string().openapi({ format: "binary" })).openapi({ description: "The sheets, as they are." }),
  });
  const content = {
    ...(reply === undefined ? {} : { "application/json": { schema: reply } }),
    ...(csv ? { "text/csv": { schema: z.string() } } : {}),
  };
  const asked = files
    ? { "multipart/form-data": { schema: upload } }
    : { "application/json": { schema: body ?? z.unknown() } };
  const refusal = { description: "Refused, and why", content: { "application/json": { schema: errors } } };
  return {
    method,
    path,
    summary,
    request: {
      ...(query === undefined ? {} : { query }),
      ...(params === undefined ? {} : { params }),
      ...(files || body !== undefined ? { body: { content: asked } } : {}),
    },
    responses: {
      [status]: { description: "The answer", ...(Object.keys(content).length > 0 ? { content } : {}) },
      ...Object.fromEntries([400, ...(route.errors ?? [])].map((code) => [code, refusal])),
    },
  };
}
