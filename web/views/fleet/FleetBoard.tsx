import { useState } from "preact/hooks";
import {
  type Estimate,
  type FleetResult,
  type FleetTool,
  formatExact,
  formatHours,
  formatNumber,
  formatSize,
  readLine,
  sayDriver,
  sayFleetReason,
  sentenceCase,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";

/** Rows at first: more than a screen, few enough to be redrawn with every key. */
const AT_FIRST = 100;
const readings = ["redress due", "look first", "not enough known", "inside its limit"] as const;

/** Hours tried for the next run, by serial. */
type Tried = Readonly<Record<string, number>>;

/** Which of the tools are listed: of one reading, with some words in serial, type or place. */
export function FleetBoard({ result }: { readonly result: FleetResult }) {
  const [reading, setReading] = useState<FleetTool["reading"] | null>(null);
  const [typed, setTyped] = useState("");
  const [tried, setTried] = useState<Tried>({});
  const words = typed.trim().toLowerCase();
  const ofReading = (one: FleetTool["reading"]) => result.tools.filter((tool) => tool.reading === one);
  const shown = (reading === null ? result.tools : ofReading(reading)).filter((tool) =>
    `${tool.serial} ${tool.toolType} ${where(tool)}`.toLowerCase().includes(words),
  );
  return (
    <>
      <div class="board-filter">
        <div class="tabs">
          <button type="button" aria-pressed={reading === null} onClick={() => setReading(null)}>
            All {formatExact(result.tools.length)}
          </button>
          {readings.map((one) => {
            const count = ofReading(one).length;
            return count === 0 ? null : (
              <button key={one} type="button" aria-pressed={reading === one} onClick={() => setReading(one)}>
                {sentenceCase(one)} {formatExact(count)}
              </button>
            );
          })}
        </div>
        <label class="field filter">
          Part of a serial, type or place
          <input type="search" value={typed} onInput={(event) => setTyped(event.currentTarget.value)} />
        </label>
      </div>
      {shown.length === 0 ? (
        <p>No tool here has “{typed.trim()}” in it.</p>
      ) : (
        <FleetRows
          key={`${reading} ${words}`}
          result={result}
          tools={shown}
          tried={tried}
          onTry={(serial, hours) => setTried({ ...tried, [serial]: hours })}
        />
      )}
    </>
  );
}

interface FleetRowsProps {
  readonly result: FleetResult;
  readonly tools: readonly FleetTool[];
  readonly tried: Tried;
  readonly onTry: (serial: string, hours: number) => void;
}

/** One row a tool, the most urgent first; the hours of the next run can be tried in place. */
function FleetRows({ result, tools, tried, onTry }: FleetRowsProps) {
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
      most={AT_FIRST}
      rows={tools}
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
                  if (Number.isFinite(hours) && hours > 0) onTry(tool.serial, hours);
                }}
              />
              <span class="muted small well">{sayWell(tool, result)}</span>
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

/** The temperature of a planned run; said where hardly any run here was as hot, for nobody has seen the hours count there. */
function sayWell({ nextRun: { celsius }, toolType }: FleetTool, { heat }: FleetResult): string {
  if (celsius === null) return "";
  const wells = heat.find((one) => one.toolType === toolType);
  const hotter = wells !== undefined && celsius > wells.highC;
  return `at ${formatNumber(Math.round(celsius))} °C${hotter ? ", hotter than nearly all before" : ""}`;
}

const sayUntold = ({ why }: Estimate): string => (why === "found failed" ? why : "not known");

const where = ({ status, location }: FleetTool): string => [status ?? "not known", location].filter(Boolean).join(", ");

/** Hours it may still run within the allowed chance; none where it is due, whatever the chance. */
const leftOf = ({ reading, hoursLeft }: FleetTool): number | null => (reading === "redress due" ? null : hoursLeft);
