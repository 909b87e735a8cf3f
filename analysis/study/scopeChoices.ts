import type { Records } from "../records/descriptor.ts";
import { defaultStudy } from "./definition.ts";
import { shopData } from "./shopData.ts";
import type { ScopeChoices } from "./types.ts";

/** What there is to ask about in these records: fills the scope bar and the list of serials. */
export function scopeChoices(records: Records): ScopeChoices {
  const tools = [...(records.tools ?? [])].sort((a, b) => (a.serial < b.serial ? -1 : 1));
  const hasDates =
    (records.runs?.length ?? 0) + (records.redresses?.length ?? 0) + (records.teardowns?.length ?? 0) > 0;
  if (!hasDates) return { toolTypes: [], customers: [], firstDate: null, lastDate: null, serials: [] };
  const data = shopData(records, defaultStudy("what fails"));
  const dates = [
    ...(records.runs ?? []).map(({ in_on, out_on }) => in_on ?? out_on),
    ...(records.redresses ?? []).map(({ done_on }) => done_on),
  ].sort();
  const runsOf = tally((records.runs ?? []).map(({ serial }) => serial));
  const failedOf = tally(
    [
      ...new Set(
        data.derived.lives
          .filter(({ kind }) => kind !== "right")
          .map(({ serial, item, since }) => JSON.stringify([serial, item, since])),
      ),
    ].map((key) => String(JSON.parse(key)[0])),
  );
  return {
    toolTypes: [...new Set(tools.map(({ tool_type }) => tool_type))].sort().map((toolType) => ({
      toolType,
      sizesIn: [
        ...new Set(
          tools
            .filter(({ tool_type }) => tool_type === toolType)
            .flatMap(({ size_in }) => (size_in == null ? [] : [size_in])),
        ),
      ].sort((a, b) => a - b),
      items: data.items
        .filter(({ tool_type }) => tool_type === toolType)
        .map(({ item, kind, position }) => ({
          item,
          kind,
          position: position ?? null,
          modes: data.modesOf(toolType, item).map(({ mode }) => mode),
        })),
    })),
    customers: [
      ...new Set((records.runs ?? []).flatMap(({ customer }) => (customer == null ? [] : [customer]))),
    ].sort(),
    firstDate: dates[0] ?? null,
    lastDate: data.derived.cutoff,
    serials: tools.map(({ serial, tool_type, size_in, status }) => ({
      serial,
      toolType: tool_type,
      sizeIn: size_in ?? null,
      status: status ?? null,
      runs: runsOf.get(serial) ?? 0,
      failures: failedOf.get(serial) ?? 0,
    })),
  };
}

function tally(values: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return counts;
}
