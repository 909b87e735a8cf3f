import { describe, expect, test } from "vitest";
import { openApiDocument } from "../../../server/contracts/openApi.ts";

// The document as JSON, the way a client reads it.
const document = JSON.parse(JSON.stringify(openApiDocument()));
const operations: readonly (readonly [string, Record<string, { readonly [key: string]: unknown }>])[] = Object.entries(
  document.paths,
);

describe("the OpenAPI description", () => {
  test("lists every address that the server answers", () => {
    expect(operations.map(([path, methods]) => `${Object.keys(methods).sort()} ${path}`).sort()).toEqual([
      "delete,get /api/drops/{id}",
      "get /api/audit",
      "get /api/audit/rows",
      "get /api/backup",
      "get /api/batches",
      "get /api/batches/{id}",
      "get /api/batches/{id}/repair.csv",
      "get /api/batches/{id}/set-aside.csv",
      "get /api/build-practice",
      "get /api/drops/{id}/set-aside.csv",
      "get /api/export.zip",
      "get /api/fleet",
      "get /api/forms/{table}",
      "get /api/item-life",
      "get /api/item-life/checks",
      "get /api/item-life/groups",
      "get /api/item-life/looks",
      "get /api/lives",
      "get /api/mappings",
      "get /api/openapi.json",
      "get /api/redress-interval",
      "get /api/rows",
      "get /api/rows/history",
      "get /api/state",
      "get /api/statements/preview/{id}/{file}",
      "get /api/statements/{statement}/{version}/{file}",
      "get /api/tools/{serial}",
      "get /api/what-fails",
      "get,post /api/audit/answers",
      "get,post /api/setup",
      "get,post /api/statements",
      "post /api/batches/{id}/undo",
      "post /api/drops",
      "post /api/drops/paste",
      "post /api/drops/{id}/answers",
      "post /api/drops/{id}/store",
      "post /api/forms",
      "post /api/forms/preview",
      "post /api/statements/preview",
      "post /api/statements/{statement}/{version}/approve",
      "post /api/statements/{statement}/{version}/issue",
      "post /api/studies",
    ]);
  });

  test("describes each query parameter, and each part that it refers to", () => {
    const itemLife = document.paths["/api/item-life"].get.parameters;
    expect(itemLife.map((parameter: { name: string }) => parameter.name)).toEqual([
      "type",
      "size",
      "item",
      "mode",
      "serial",
      "customer",
      "from",
      "to",
      "confidence",
      "age",
      "missing",
      "audit",
      "bounds",
      "sides",
      "shape",
      "law",
      "format",
      "table",
    ]);
    for (const parameter of itemLife) expect(parameter).toMatchObject({ in: "query", required: false });
    const references = [...JSON.stringify(document).matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g)].map(
      ([, name]) => name,
    );
    expect(references.length).toBeGreaterThan(10);
    for (const name of references) expect(Object.keys(document.components.schemas)).toContain(name);
  });

  test("describes canonical rows from their descriptors, with units", () => {
    const history = document.components.schemas.ToolHistoryResult;
    expect(history.properties.tool.properties.size_in).toMatchObject({ description: "Nominal size (in)" });
    expect(history.properties.tool.required).toEqual(["serial", "tool_type"]);
  });
});
