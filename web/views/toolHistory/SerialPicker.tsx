import { useState } from "preact/hooks";
import { formatSize, type ScopeChoices } from "../../../analysis/index.ts";
import { place } from "../../state/navigation.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { SerialLink } from "../parts/Link.tsx";
import { Section } from "../parts/Section.tsx";
import { Empty } from "../parts/States.tsx";

/** All serials, narrowed by the scope's tool type and size and by what is typed. */
export function SerialPicker({ choices }: { readonly choices: ScopeChoices }) {
  const [typed, setTyped] = useState("");
  const { scope } = place.value;
  if (choices.serials.length === 0)
    return (
      <Empty title="No serial is known yet">
        <p>A serial appears here as soon as a sheet names one in a build, a run or a teardown.</p>
      </Empty>
    );
  const words = typed.trim().toLowerCase();
  const shown = choices.serials.filter(
    (tool) =>
      (scope.toolType === null || tool.toolType === scope.toolType) &&
      (scope.sizeIn === null || tool.sizeIn === scope.sizeIn) &&
      `${tool.serial} ${tool.toolType} ${tool.status ?? ""}`.toLowerCase().includes(words),
  );
  return (
    <>
      <p class="answer">Whose story?</p>
      <div class="card">
        <Section name="Serials">
          <label class="field filter">
            Part of a serial, type or status
            <input type="search" value={typed} onInput={(event) => setTyped(event.currentTarget.value)} />
          </label>
          <p class="muted small" aria-live="polite">
            {shown.length === choices.serials.length
              ? `${shown.length} serials`
              : `${shown.length} of ${choices.serials.length} serials`}
          </p>
          {shown.length === 0 ? (
            <p>No serial has “{typed.trim()}” in it within this scope.</p>
          ) : (
            <DataTable
              caption="Serials"
              hideCaption
              rows={shown}
              keyOf={(tool) => tool.serial}
              columns={[
                { title: "Serial", show: (tool) => <SerialLink serial={tool.serial} />, value: (tool) => tool.serial },
                { title: "Tool type", show: (tool) => tool.toolType, value: (tool) => tool.toolType },
                {
                  title: "Size",
                  numeric: true,
                  show: (tool) => (tool.sizeIn === null ? "" : formatSize(tool.sizeIn)),
                  value: (tool) => tool.sizeIn,
                },
                { title: "Where it is", show: (tool) => tool.status ?? "not known", value: (tool) => tool.status },
                { title: "Runs", numeric: true, show: (tool) => tool.runs, value: (tool) => tool.runs },
                { title: "Failures", numeric: true, show: (tool) => tool.failures, value: (tool) => tool.failures },
              ]}
              file="serials.csv"
            />
          )}
        </Section>
      </div>
    </>
  );
}
