import { Router } from "express";
import { zip } from "fflate";
import { backupOf } from "../storage/backup/writeBackup.ts";
import { exportStore } from "../storage/export/exportStore.ts";
import type { Store } from "../storage/store.ts";

export interface BackupRoutesOptions {
  readonly store: Store;
  readonly clock: () => Date;
}

/** Everything stored, to take along: a backup for this program, an export for any other. */
export function backupRoutes({ store, clock }: BackupRoutesOptions): Router {
  const router = Router();
  const today = () => clock().toISOString().slice(0, 10);

  router.get("/backup", async (_request, response) => {
    const { stream } = await backupOf(store.journalFolder, clock().toISOString());
    response.attachment(`afterrun-backup-${today()}.tar.gz`).type("application/gzip");
    // Packed already.
    response.set("cache-control", "no-store, no-transform");
    await new Promise<void>((resolve) => {
      stream.on("error", () => response.destroy());
      response.on("close", () => {
        stream.destroy();
        resolve();
      });
      stream.pipe(response);
    });
  });

  router.get("/export.zip", async (_request, response) => {
    const { files } = await exportStore(store, clock().toISOString());
    const name = `afterrun-export-${today()}`;
    const parts = Object.fromEntries(files.map((file) => [`${name}/${file.name}`, file.bytes]));
    const packed = await new Promise<Uint8Array>((resolve, reject) => {
      zip(parts, (error, bytes) => (error === null ? resolve(bytes) : reject(error)));
    });
    response.attachment(`${name}.zip`).type("application/zip").send(Buffer.from(packed));
  });

  return router;
}
