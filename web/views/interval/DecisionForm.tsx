import { useEffect, useState } from "preact/hooks";
import {
  type CostUsed,
  type DecisionSettings,
  formatDate,
  formatNumber,
  formatTemperature,
  type RedressIntervalResult,
  usualDecision,
} from "../../../analysis/index.ts";
import { acceptsSetting } from "../../state/decision.ts";
import { move } from "../../state/navigation.ts";

/** The costs, the allowed chance and the next run: asked for in place, kept in the address. */
export function DecisionForm({ result }: { readonly result: RedressIntervalResult }) {
  const settings = result.definition.decision ?? usualDecision;
  const stopping = result.modes.find(({ stops }) => stops !== null);
  const finding = result.modes.find(({ found }) => found !== null);
  const money = result.currency ?? "planned redresses";
  const give = (key: keyof DecisionSettings, value: number | null) =>
    move({ decision: { ...settings, [key]: value ?? usualDecision[key] } });
  return (
    <form class="decision-form" onSubmit={(event) => event.preventDefault()}>
      <NumberField
        label={`A planned redress costs, ${money}`}
        value={result.planned.amount}
        source={saySource(result.planned)}
        accepts={(value) => acceptsSetting("plannedCost", value)}
        onGive={(value) => give("plannedCost", value)}
      />
      <NumberField
        label={`A failure that stops a job costs, ${money}`}
        value={stopping?.stops?.amount ?? null}
        source={stopping?.stops == null ? "no mode here stops a job" : saySource(stopping.stops)}
        accepts={(value) => acceptsSetting("failureCost", value)}
        onGive={(value) => give("failureCost", value)}
      />
      <NumberField
        label={`Found in the shop adds, ${money}`}
        value={finding?.found?.amount ?? null}
        source={finding?.found == null ? "no hidden mode here" : saySource(finding.found)}
        accepts={(value) => acceptsSetting("foundCost", value)}
        onGive={(value) => give("foundCost", value)}
      />
      <NumberField
        label="Allowed chance of a stopped job, %"
        value={100 * result.risk.allowedChance}
        source={settings.allowedChance === usualDecision.allowedChance ? "usual setting" : "as asked"}
        accepts={(value) => acceptsSetting("allowedChance", value / 100)}
        onGive={(value) => give("allowedChance", value === null ? null : value / 100)}
      />
      <NumberField
        label="Next run, h"
        value={result.risk.runHours}
        source={settings.runHours === null ? "middle run of the records" : "as asked"}
        accepts={(value) => acceptsSetting("runHours", value)}
        onGive={(value) => give("runHours", value)}
      />
      <NumberField
        label="Next well, highest °C"
        value={settings.wellC}
        open
        source={
          settings.wellC === null ? "not given: hours count alike" : `as asked, ${formatTemperature(settings.wellC)}`
        }
        accepts={(value) => acceptsSetting("wellC", value)}
        onGive={(value) => give("wellC", value)}
      />
    </form>
  );
}

const saySource = ({ source, datedOn }: CostUsed): string =>
  source === "asked"
    ? "as asked"
    : source === "assumed"
      ? "assumed, nobody said so"
      : `from the records${datedOn === null ? "" : `, since ${formatDate(datedOn)}`}`;

interface NumberFieldProps {
  readonly label: string;
  readonly value: number | null;
  readonly source: string;
  /** May be given though nothing is known of it. */
  readonly open?: boolean;
  readonly accepts: (value: number) => boolean;
  /** Null gives the setting back to the records. */
  readonly onGive: (value: number | null) => void;
}

/** One number with where it is from. Emptied, it goes back to the records or the usual. */
function NumberField({ label, value, source, open = false, accepts, onGive }: NumberFieldProps) {
  const shown = value === null ? "" : formatNumber(value).replaceAll(",", "");
  const [text, setText] = useState(shown);
  useEffect(() => setText(shown), [shown]);
  const give = () => {
    if (text === shown) return;
    if (text.trim() === "") onGive(null);
    else if (accepts(Number(text))) onGive(Number(text));
    else setText(shown);
  };
  return (
    <label>
      <span>{label}</span>
      <input
        type="number"
        inputMode="decimal"
        min="0"
        step="any"
        value={text}
        disabled={value === null && !open}
        onInput={(event) => setText(event.currentTarget.value)}
        onBlur={give}
        onKeyDown={(event) => {
          if (event.key === "Enter") give();
        }}
      />
      <span class="muted small">{source}</span>
    </label>
  );
}
