import type { ScopeChoices, ToolHistoryResult } from "../../../analysis/index.ts";
import { fetchToolHistory, toolHistoryPath } from "../../state/api.ts";
import { place } from "../../state/navigation.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { ToolForm } from "../forms/ToolForm.tsx";
import { Answered } from "../parts/Answered.tsx";
import { SerialPicker } from "./SerialPicker.tsx";
import { ToolHistoryAnswer } from "./ToolHistoryAnswer.tsx";

/** "What is the story of this serial on my bench?" */
export function ToolHistoryView({ choices, dataHash }: { readonly choices: ScopeChoices; readonly dataHash: string }) {
  const { serial, form } = place.value;
  const path = serial === null ? null : toolHistoryPath(serial);
  const loaded = useLoaded<ToolHistoryResult>(path === null ? null : `${dataHash} ${path}`, (signal) =>
    fetchToolHistory(path ?? "", signal),
  );
  if (serial === null) return <SerialPicker choices={choices} />;
  return (
    <Answered loaded={loaded} waitingWords="Putting the story together…" failureTitle={`No story of ${serial}`}>
      {(result) =>
        form === null ? (
          <ToolHistoryAnswer result={result} />
        ) : (
          <ToolForm form={form} result={result} choices={choices} dataHash={dataHash} />
        )
      }
    </Answered>
  );
}
