import { type Request, type Response, Router } from "express";
import { nameOfSheet } from "../../analysis/index.ts";
import { dropAnswers, pastedSheet } from "../contracts/api.ts";
import type { DroppedFile } from "../intake/draft.ts";
import { createDrops, type DropLimits } from "../intake/drops.ts";
import { repairSheet, type SheetToRepair } from "../intake/repairSheet.ts";
import type { Store } from "../storage/store.ts";
import type { DropPool } from "../work/dropPool.ts";
import { errorReply } from "./errorReply.ts";
import { hangUp } from "./hangUp.ts";
import { parseBody, parseQuery } from "./parse.ts";
import { RequestError } from "./requestError.ts";
import { setAsideQuery } from "./setAsideQuery.ts";
import { storedSetAside } from "./storedSetAside.ts";
import { fileNames, readFiles, refuseTooLarge } from "./upload.ts";
import { whoOf } from "./who.ts";

export interface DropRoutesOptions {
  readonly store: Store;
  readonly pool: DropPool;
  readonly clock: () => Date;
  readonly limits: DropLimits;
  /** Called when a batch was stored. */
  readonly stored: () => void;
}

/**
 * Drops: files or pasted cells come in, what they would become is shown and confirmed, then all of it is stored as one
 * batch. A drop is answered with its preview; with `Prefer: respond-async` (RFC 7240) at once, with how far its reading
 * is, which its address tells from then on.
 */
export function dropRoutes({ store, pool, clock, limits, stored }: DropRoutesOptions): Router {
  const router = Router();
  const drops = createDrops({ store, pool, clock, limits });

  async function take(files: readonly DroppedFile[], request: Request, response: Response): Promise<void> {
    const { progress, preview } = drops.start(files);
    const { id } = progress;
    response.location(`/api/drops/${id}`);
    if (/(?:^|[\s,;])respond-async(?:$|[\s,;])/i.test(request.get("prefer") ?? "")) {
      response.status(202).set("preference-applied", "respond-async").json(progress);
      return;
    }
    const forget = () => {
      try {
        drops.takeBack(id);
      } catch {
        // Taken back by somebody else meanwhile.
      }
    };
    // Nobody knows the drop of a sender who went away before it was answered.
    hangUp(response).addEventListener("abort", forget, { once: true });
    try {
      response.status(201).json(await preview);
    } catch (error) {
      forget();
      throw error;
    }
  }

  router.post("/drops", refuseTooLarge(limits), readFiles(limits), async (request, response) => {
    const received = Array.isArray(request.files) ? request.files : [];
    if (received.length === 0) throw new RequestError("nothing-dropped");
    const names = fileNames(received.map((file) => file.originalname));
    const files = received.map(({ buffer }, index) => ({
      file: names[index] ?? "sheet",
      bytes: new Uint8Array(buffer),
    }));
    await take(files, request, response);
  });

  router.post("/drops/paste", async (request, response) => {
    const { text, name } = parseBody(pastedSheet, request.body);
    const [file = "pasted sheet"] = fileNames([name ?? "pasted sheet"]);
    await take([{ file, bytes: new TextEncoder().encode(text) }], request, response);
  });

  router.get("/drops/:id", async (request, response) => {
    const { id } = request.params;
    if (request.accepts(["json", "text/event-stream"]) !== "text/event-stream") {
      response.json(await drops.look(id));
      return;
    }
    const send = (event: "progress" | "preview" | "error", data: object) => {
      if (!response.headersSent)
        response.status(200).set({ "content-type": "text/event-stream", "x-accel-buffering": "no" });
      response.write(`event: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
    };
    try {
      send("preview", await drops.watch(id, (progress) => send("progress", progress), hangUp(response)));
    } catch (error) {
      // A page that listens to events sees no body of an error status: only an address without a drop has one.
      if (!response.headersSent && error instanceof RequestError && error.code === "drop-not-found") throw error;
      send("error", errorReply(error, limits).body);
    }
    response.end();
  });

  router.delete("/drops/:id", (request, response) => {
    drops.takeBack(request.params.id);
    response.status(204).end();
  });

  router.post("/drops/:id/answers", async (request, response) => {
    response.json(await drops.answer(request.params.id, parseBody(dropAnswers, request.body)));
  });

  router.post("/drops/:id/store", async (request, response) => {
    const batch = await drops.store(request.params.id, whoOf(request));
    stored();
    response.status(201).json(batch);
  });

  router.get("/drops/:id/set-aside.csv", async (request, response) => {
    const { file, tab = null } = parseQuery(setAsideQuery, request.query);
    const { sheet, mapping, headers } = await drops.setAside(request.params.id, file, tab);
    sendRepair(
      response,
      { headers, format: mapping.format, setAside: sheet.setAside },
      nameOfSheet({ file, sheet: tab }),
    );
  });

  router.get("/batches/:id/repair.csv", async (request, response) => {
    const { file, tab = null } = parseQuery(setAsideQuery, request.query);
    const sheet = await storedSetAside({ store, pool, batch: request.params.id, file, tab });
    sendRepair(response, sheet, nameOfSheet({ file, sheet: tab }));
  });

  return router;
}

function sendRepair(response: Response, sheet: SheetToRepair, name: string): void {
  const plain = name.replace(/\.(?:csv|tsv|txt|xlsx|xlsm)(?=,|$)/i, "").replace(/[^\p{L}\p{N} ,_-]/gu, "_");
  response.attachment(`${plain} to repair.csv`).type("text/csv; charset=utf-8").send(repairSheet(sheet));
}
