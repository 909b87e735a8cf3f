import type { ScopeChoices, ToolHistoryResult } from "../../../analysis/index.ts";
import { Link } from "../parts/Link.tsx";
import { Empty } from "../parts/States.tsx";
import { FindingView } from "./FindingView.tsx";
import { FixView } from "./FixView.tsx";
import { PlanView } from "./PlanView.tsx";
import { RedressView } from "./RedressView.tsx";
import { RunView } from "./RunView.tsx";

interface ToolFormProps {
  readonly form: string;
  readonly result: ToolHistoryResult;
  readonly choices: ScopeChoices;
  readonly dataHash: string;
}

/** What is being written down at a tool, by the name that stands in the address. */
export function ToolForm({ form, result, choices, dataHash }: ToolFormProps) {
  if (form === "finding") return <FindingView result={result} choices={choices} />;
  if (form === "run") return <RunView result={result} />;
  if (form === "redress") return <RedressView result={result} />;
  const { serial } = result.tool;
  if (form === "plan")
    return (
      <PlanView
        table="planned_runs"
        settled={{ serial }}
        choices={choices}
        dataHash={dataHash}
        back={`Back to the story of ${serial}`}
      />
    );
  const event = result.events.find(({ row }) => form === `fix ${row.table}:${row.key}`);
  if (event !== undefined) return <FixView key={form} event={event} result={result} />;
  return (
    <Empty title="There is nothing to write here">
      <p>What this address asks to put right is not in the story of {serial}.</p>
      <Link to={{ form: null }} class="button main">
        To the story of {serial}
      </Link>
    </Empty>
  );
}
