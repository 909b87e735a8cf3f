import type { LivesNotice } from "../lives/types.ts";
import type { RowRef } from "../records/descriptor.ts";
import { inScope, type ShopData, type StudyContext } from "./shopData.ts";
import type { Notice, StudyDefinition } from "./types.ts";

/** Notices of the derivation that touch the tools in scope, one a code: how many rows, and which. */
export function derivationNotices(
  data: ShopData,
  { scope }: StudyDefinition,
  { statements, sample }: StudyContext,
): Notice[] {
  const serials = new Set(
    (data.records.tools ?? [])
      .filter(({ tool_type, size_in, serial }) =>
        inScope(
          { ...scope, item: null, mode: null },
          { toolType: tool_type, sizeIn: size_in ?? null, serial, item: "", mode: "" },
        ),
      )
      .map(({ serial }) => serial),
  );
  const byCode = new Map<LivesNotice["code"], LivesNotice[]>();
  for (const notice of data.derived.notices) {
    const { serial, item, mode } = notice.facts;
    const elsewhere =
      (typeof serial === "string" && !serials.has(serial) && notice.code !== "tool-not-listed") ||
      (scope.item !== null && typeof item === "string" && item !== scope.item) ||
      (scope.mode !== null && typeof mode === "string" && mode !== scope.mode);
    if (!elsewhere) byCode.set(notice.code, [...(byCode.get(notice.code) ?? []), notice]);
  }
  return [
    ...[...byCode].map(([code, notices]): Notice => {
      const [only] = notices;
      const rows: RowRef[] = notices.flatMap((notice) => notice.rows);
      const facts = notices.length === 1 && only ? only.facts : { count: notices.length };
      return { code, facts, rows };
    }),
    ...statements.map((statement): Notice => ({ code: "restoration-statement", facts: { statement } })),
    ...(sample ? [{ code: "invented-data" as const, facts: {} }] : []),
  ];
}
