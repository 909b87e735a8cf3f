import { randomStream } from "../../estimation/bootstrap/randomStream.ts";
import type { ShopData } from "../shopData.ts";
import type { StudyDefinition } from "../types.ts";
import type { ModeTable } from "./modeTable.ts";
import type { TrialTurn } from "./types.ts";

/**
 * Serials in service, alternating within tool type and size, so that crew, well and season fall on both sides alike; which one
 * begins is drawn by the study's seed.
 */
export function trialPlan(table: ModeTable, data: ShopData, { scope, seed }: StudyDefinition): readonly TrialTurn[] {
  const withItem = new Set(
    data.items.filter(({ item }) => table.items.includes(item)).map(({ tool_type }) => tool_type),
  );
  const tools = (data.records.tools ?? [])
    .filter(({ status }) => status !== "lost in hole" && status !== "scrapped")
    .filter(
      ({ tool_type, size_in, serial }) =>
        withItem.has(tool_type) &&
        (scope.toolType === null || tool_type === scope.toolType) &&
        (scope.sizeIn === null || size_in === scope.sizeIn) &&
        (scope.serial === null || serial === scope.serial),
    )
    .sort(
      (a, b) =>
        a.tool_type.localeCompare(b.tool_type, "en") ||
        (a.size_in ?? 0) - (b.size_in ?? 0) ||
        a.serial.localeCompare(b.serial, "en", { numeric: true }),
    );
  const stream = randomStream(seed);
  let block = "";
  let isAt = false;
  return tools.map(({ serial, tool_type, size_in }) => {
    const own = `${tool_type} ${size_in}`;
    isAt = own === block ? !isAt : stream.below(2) === 1;
    block = own;
    return { serial, toolType: tool_type, sizeIn: size_in ?? null, first: isAt ? "at" : "against" };
  });
}
