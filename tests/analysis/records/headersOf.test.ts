import { describe, expect, test } from "vitest";
import { headersOf } from "../../../analysis/records/headersOf.ts";
import type { Mapping } from "../../../analysis/records/mapping.ts";

// A build sheet by hand: two joints side by side, each in columns of its own.
const builds: Mapping = {
  name: "builds",
  version: 1,
  fingerprint: "build no|j1 final|j2 final",
  format: { encoding: "utf-8", delimiter: ";", decimal: ".", skipLines: 0, comment: null, dateOrder: {} },
  tables: [
    {
      table: "joints",
      columns: { redress: { from: "Build no" } },
      members: [
        { joint: { constant: "J1" }, final_torque_Nm: { from: "J1 final", unit: "ft-lbf" } },
        { joint: { constant: "J2" }, final_torque_Nm: { from: "J2 final", unit: "ft-lbf" } },
      ],
    },
    { table: "redresses", columns: { redress: { from: "Build no" }, serial: { pattern: "^(\\w+)", of: "Tool" } } },
  ],
  addRows: [],
};

describe("where a value stands on the sheet", () => {
  test("the header and unit of the joint's own column, not of the one beside it", () => {
    const row = { table: "joints", asWritten: { "Build no": "B-7", "J2 final": "3674" } } as const;
    expect(headersOf(row, [builds])).toEqual({
      redress: { header: "Build no", unit: null },
      final_torque_Nm: { header: "J2 final", unit: "ft-lbf" },
    });
  });

  test("a cell that a pattern reads is found; a constant has none; unknown headers give nothing", () => {
    const row = { table: "redresses", asWritten: { "Build no": "B-7", Tool: "T1 axial" } } as const;
    expect(Object.keys(headersOf(row, [builds]))).toEqual(["redress", "serial"]);
    expect(headersOf({ table: "redresses", asWritten: { Other: "1" } }, [builds])).toEqual({});
    expect(headersOf({ table: "runs", asWritten: row.asWritten }, [builds])).toEqual({});
  });
});
