import { Router } from "express";
import type { Mapping } from "../../analysis/index.ts";
import type { Store } from "../storage/store.ts";

/** The mappings that are confirmed: the newest version of each shape of sheet, by name. */
export function mappingRoutes(store: Store): Router {
  const router = Router();

  router.get("/mappings", async (_request, response) => {
    const newest = new Map<string, Mapping>();
    for (const mapping of await store.rememberedMappings()) {
      const known = newest.get(mapping.fingerprint);
      if (known === undefined || known.version < mapping.version) newest.set(mapping.fingerprint, mapping);
    }
    response.json([...newest.values()].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0)));
  });

  return router;
}
