import { Router } from "express";
import { type FormEntry, tableNames } from "../../analysis/index.ts";
import { formBody, formPreviewBody } from "../contracts/forms.ts";
import { type FormSheets, formSheets } from "../intake/formSheets.ts";
import { previewForm } from "../intake/previewForm.ts";
import type { Store } from "../storage/store.ts";
import { parseBody } from "./parse.ts";
import { RequestError } from "./requestError.ts";
import { whoOf } from "./who.ts";

export interface FormRoutesOptions {
  readonly store: Store;
  readonly clock: () => Date;
  /** Called when a form was stored. */
  readonly stored: () => void;
}

/** Forms: rows written by hand, looked at first, then stored as a batch like any sheet. */
export function formRoutes({ store, clock, stored }: FormRoutesOptions): Router {
  const router = Router();

  const read = async (rows: readonly FormEntry[], who: string): Promise<FormSheets> => {
    const { records } = await store.loadRecords();
    return formSheets(
      rows,
      `form ${who} ${clock().toISOString().slice(0, 16).replace("T", " ").replace(":", ".")}`,
      records,
    );
  };

  router.post("/forms/preview", async (request, response) => {
    const { rows } = parseBody(formPreviewBody, request.body);
    response.json(await previewForm(await read(rows, "preview"), store));
  });

  router.post("/forms", async (request, response) => {
    const { rows, why = "" } = parseBody(formBody, request.body);
    const who = whoOf(request);
    const form = await read(rows, who);
    if (!(await previewForm(form, store)).ready) {
      const first = form.problems.find(({ severity }) => severity === "error");
      throw new RequestError("form-not-ready", {
        column: first?.column ?? null,
        value: first?.value ?? null,
        problem: first?.code ?? null,
      });
    }
    const { files, sheets } = form;
    const batch = await store.storeBatch({
      who,
      when: clock().toISOString(),
      ...(why === "" ? {} : { why }),
      files,
      sheets,
      words: await store.words(),
      setup: [],
      linkProblems: form.problems.filter(({ code }) => code === "link-not-found"),
    });
    stored();
    response.status(201).json(batch);
  });

  router.get("/forms/:table", async (request, response) => {
    const table = tableNames.find((name) => name === request.params.table);
    if (!table)
      throw new RequestError("no-such-address", { address: `/api/forms/${request.params.table.slice(0, 60)}` });
    const { records } = await store.loadRecords();
    response.json(records[table] ?? []);
  });

  return router;
}
