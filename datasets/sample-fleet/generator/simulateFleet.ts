/**
 * Simulates the invented fleet: every tool is built, runs, comes back, is torn down and redressed, day by day. Items
 * fail at latent ages that the records never show; what is written down is what a shop could see.
 */
import type { Records, Row } from "../../../analysis/records/descriptor.ts";
import { Book } from "./book.ts";
import { dayOf } from "./days.ts";
import { geometryCells } from "./jointGeometry.ts";
import { compounds } from "./multipliers.ts";
import { defaultFleet, type FleetOptions } from "./options.ts";
import { type PlantedFault, plantFaults } from "./plantFaults.ts";
import { randomStream } from "./random.ts";
import { shopPlans } from "./shopPlans.ts";
import { footPounds } from "./shopUnits.ts";
import { shopWords } from "./shopWords.ts";
import { ToolInShop } from "./toolInShop.ts";
import { toolTypes } from "./toolTypes.ts";
import { closeModes, type TrueLife } from "./trueLife.ts";
import { modeTruths } from "./truth.ts";

export interface Fleet {
  readonly options: FleetOptions;
  /** What a perfect clerk would have written: no planted fault. */
  readonly records: Records;
  /** What was written: `records` with the planted faults. This is what the sheets hold. */
  readonly recorded: Records;
  /** Every difference between the two, and the faults that are in both because they happened in the shop. */
  readonly planted: readonly PlantedFault[];
  /** Every life as it truly went, with its latent age of failure. */
  readonly trueLives: readonly TrueLife[];
  /** The gamma factor of each serial (1 without tool-to-tool spread). */
  readonly toolFactors: Readonly<Record<string, number>>;
}

/**
 * One fleet from its options. Equal options give an equal fleet on every platform.
 *
 * @param options  see FleetOptions; `defaultFleet` and `cleanFleet` are the two that matter.
 * @returns        canonical records with and without the planted faults, and the truth behind them.
 */
export function simulateFleet(options: FleetOptions = defaultFleet): Fleet {
  const from = dayOf(options.from);
  const to = dayOf(options.to);
  const book = new Book();
  const firstTypeCount = Math.round((options.serials * 2) / 3);
  const draw = randomStream(options.seed, "fleet");

  const shop: ToolInShop[] = [];
  for (let index = 0; index < options.serials; index++) {
    const type = index < firstTypeCount ? toolTypes[0] : toolTypes[1];
    if (type === undefined) throw new RangeError("no tool type");
    const size = draw.chance(0.6) ? (4.75 as const) : (6.5 as const);
    const old = draw.chance(0.25);
    const startsLater = draw.chance(0.3);
    const entry = from + Math.floor(draw.uniform() * (startsLater ? (to - from) * 0.45 : 60));
    const number = String((index < firstTypeCount ? index : index - firstTypeCount) + 1).padStart(3, "0");
    const serial = `${type.prefix}${size === 4.75 ? "475" : "650"}-${number}`;
    const inUseBefore = options.dirt.midLifeEntry && old && !startsLater;
    shop.push(new ToolInShop({ options, book, serial, type, size, entryDay: entry, toDay: to, inUseBefore }));
  }

  // The earliest event of the whole shop goes first, so that items can move between tools and numbers follow dates.
  for (;;) {
    let next: ToolInShop | null = null;
    for (const tool of shop) if (tool.nextDay <= to && (next === null || tool.nextDay < next.nextDay)) next = tool;
    if (next === null) break;
    next.step();
  }
  for (const tool of shop) tool.close();
  for (const pin of book.usedPins) closeModes(pin, "running");

  const tools = shop.map((tool) => tool.row());
  const records: Records = {
    tool_items: toolTypes.flatMap((type) =>
      type.items.map(
        (item): Row<"tool_items"> => ({
          tool_type: type.name,
          item: item.item,
          kind: item.kind,
          position: item.position,
          design_torque_Nm: item.designFootPounds === null ? null : footPounds(item.designFootPounds),
          connection: item.connection,
          ...(item.geometry === null ? {} : geometryCells(item.geometry)),
          kit: item.kit,
          aliases: item.aliases,
        }),
      ),
    ),
    modes: modeTruths.map(
      (mode): Row<"modes"> => ({
        item: mode.item,
        mode: mode.mode,
        announces: mode.announces,
        threshold: mode.threshold,
        restored_by: mode.restoredBy,
        leads_to: mode.leadsTo,
        words: shopWords[mode.mode] ?? [],
      }),
    ),
    compounds,
    tools,
    redresses: book.redresses,
    joints: book.joints,
    fitted_items: book.fittedItems,
    runs: book.runs,
    teardowns: book.teardowns,
    findings: book.findings,
    ...shopPlans(options, tools),
  };
  const { recorded, planted } = plantFaults(records, options, book.happened);
  return {
    options,
    records,
    recorded,
    planted,
    trueLives: book.trueLives,
    toolFactors: Object.fromEntries(shop.map((tool) => [tool.serial, tool.factor])),
  };
}
