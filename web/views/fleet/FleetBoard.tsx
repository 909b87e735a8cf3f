import { useState } from "preact/hooks";
import {
  type Estimate,
  type FleetResult,
  type FleetTool,
  formatHours,
  formatNumber,
  formatSize,
  readLine,
  sayDriver,
  sayFleetReason,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";

/** One row a tool, the most urgent first; the hours of the next run can be tried in place. */
export function FleetBoard({ result }: { readonly result: FleetResult }) {
  const [tried, setTried] = useState<Readonly<Record<string, number>>>({});
  const hoursOf = (tool: FleetTool): number => tried[tool.serial] ?? tool.nextRun.hours;
  const chanceOf = (tool: FleetTool) => {
    const hours = hoursOf(tool);
    if (hours === tool.nextRun.hours) return tool.chance;
    return tool.chance.value === null ? null : readLine(tool.byHours.hours, tool.byHours.chance, hours);
  };
  return (
    <DataTable
      caption="Which tool may go out"
      hideCaption
      fill
      file="fleet.csv"
      rows={result.tools}
      keyOf={({ serial }) => serial}
      group={{
        keyOf: ({ reading }) => reading,
        show: ({ reading }) => (
          <span class="reading" data-reading={reading}>
            {reading}
          </span>
        ),
      }}
      fileColumns={[{ title: "reading", value: ({ reading }) => reading }]}
      columns={[
        {
          title: "Tool",
          show: (tool) => (
            <>
              <Link to={{ view: "tool-history", serial: tool.serial }}>{tool.serial}</Link>
              <span class="muted small type-under">{tool.sizeIn === null ? "" : formatSize(tool.sizeIn)}</span>
            </>
          ),
          value: ({ serial }) => serial,
        },
        {
          title: "Since redress",
          numeric: true,
          show: ({ hoursSinceRedress }) => formatHours(hoursSinceRedress),
          value: ({ hoursSinceRedress }) => hoursSinceRedress,
        },
        {
          title: "Next run",
          unit: "h",
          numeric: true,
          show: (tool) => (
            <>
              <input
                class="hours-box"
                type="number"
                inputMode="decimal"
                min="1"
                max={tool.byHours.hours.at(-1) ?? 250}
                step="any"
                value={hoursOf(tool)}
                aria-label={`Hours of the next run of ${tool.serial}`}
                onInput={(event) => {
                  const hours = Number(event.currentTarget.value);
                  if (Number.isFinite(hours) && hours > 0) setTried({ ...tried, [tool.serial]: hours });
                }}
              />
              <span class="muted small type-under">{sayWell(tool, result)}</span>
            </>
          ),
          value: hoursOf,
        },
        {
          title: "Chance in it",
          unit: "%",
          numeric: true,
          show: (tool) => {
            const chance = chanceOf(tool);
            if (chance?.value == null) return tool.chance.value === null ? sayUntold(tool.chance) : "beyond 250 h";
            const over = (chance.upper ?? 1) > result.allowedChance;
            return (
              <strong class={over ? "over" : undefined}>
                {formatNumber(100 * chance.value)} ({formatNumber(100 * (chance.lower ?? 0))}–
                {formatNumber(100 * (chance.upper ?? 1))})
              </strong>
            );
          },
          value: (tool) => chanceOf(tool)?.value ?? null,
        },
        {
          title: "Left",
          numeric: true,
          show: (tool) => {
            const hours = leftOf(tool);
            return hours === null
              ? "none"
              : `${formatHours(Math.floor(hours))}${tool.hoursLeftBeyond ? " or more" : ""}`;
          },
          value: leftOf,
        },
        {
          title: "Why",
          show: ({ reasons }) => <span class="reason">{reasons.map(sayFleetReason).join(" ")}</span>,
          value: ({ reasons }) => reasons.map(sayFleetReason).join(" "),
        },
        {
          title: "Mostly from",
          show: ({ driver }) => <span class="whole">{sayDriver(driver)}</span>,
          value: ({ driver }) => sayDriver(driver),
        },
        { title: "Where", show: where, value: where },
      ]}
    />
  );
}

/** The temperature of a planned run; said where hardly any run here was as hot. */
function sayWell({ nextRun: { celsius }, toolType }: FleetTool, { heat }: FleetResult): string {
  if (celsius === null) return "";
  const wells = heat.find((one) => one.toolType === toolType);
  const beyond = wells !== undefined && (celsius > wells.highC || celsius < wells.lowC);
  return `at ${formatNumber(Math.round(celsius))} °C${beyond ? `, ${celsius > wells.highC ? "hotter" : "cooler"} than nearly all before` : ""}`;
}

const sayUntold = ({ why }: Estimate): string => (why === "found failed" ? why : "not known");

const where = ({ status, location }: FleetTool): string => [status ?? "not known", location].filter(Boolean).join(", ");

/** Hours it may still run within the allowed chance; none where it is due, whatever the chance. */
const leftOf = ({ reading, hoursLeft }: FleetTool): number | null => (reading === "redress due" ? null : hoursLeft);
