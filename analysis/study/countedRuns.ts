import { dayOf } from "../lives/calendar.ts";
import { clockRuns } from "../lives/clockRuns.ts";
import type { Row } from "../records/descriptor.ts";
import { livesDefinition } from "./definition.ts";
import { ranInScope } from "./exposure.ts";
import { settledAge } from "./settleAges.ts";
import { inScope, type ShopData } from "./shopData.ts";
import type { Scope, StudyDefinition } from "./types.ts";

/** Every counted run in scope, once, with its hours; hours that were not written down at the shop's rate. */
export function countedRuns(data: ShopData, definition: StudyDefinition): { run: Row<"runs">; hours: number }[] {
  const inside = new Set(runsOfScope(data, definition.scope));
  const lives = livesDefinition({ ...definition, cutoff: data.derived.cutoff });
  const { bySerial } = clockRuns(data.records, lives, dayOf(data.derived.cutoff));
  return [...bySerial.values()]
    .flat()
    .flatMap(({ run, hours }) =>
      inside.has(run) ? [{ run, hours: settledAge([hours.low, hours.high], data.hoursPerDay) }] : [],
    );
}

/** Every run row of the tools, customer, wells and dates in scope, counted or not. */
export function runsOfScope(data: Pick<ShopData, "records">, scope: Scope): readonly Row<"runs">[] {
  const serials = serialsOfScope(data, scope);
  return (data.records.runs ?? []).filter(
    ({ serial, in_on, out_on, customer, well }) =>
      serials.has(serial) && ranInScope(scope, { on: in_on ?? out_on, customer: customer ?? null, well: well ?? null }),
  );
}

/** The tools in scope. */
export function serialsOfScope(data: Pick<ShopData, "records">, scope: Scope): ReadonlySet<string> {
  const anyItem = { ...scope, item: null, mode: null };
  return new Set(
    (data.records.tools ?? [])
      .filter(({ tool_type, size_in, serial }) =>
        inScope(anyItem, { toolType: tool_type, sizeIn: size_in ?? null, serial, item: "", mode: "" }),
      )
      .map(({ serial }) => serial),
  );
}
