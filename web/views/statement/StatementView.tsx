import { useEffect, useState } from "preact/hooks";
import type { ScopeChoices, StatementEntry, StatementsReply } from "../../../analysis/index.ts";
import { move, place } from "../../state/navigation.ts";
import { fetchStatements } from "../../state/statementRequests.ts";
import {
  definitionOfSettings,
  missingOf,
  type StatementSettings,
  settingsOf,
  usualStatement,
} from "../../state/statementSettings.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { Failure } from "../parts/States.tsx";
import { StatementForm } from "./StatementForm.tsx";
import { StatementPreviewPanel } from "./StatementPreviewPanel.tsx";
import { StoredStatements } from "./StoredStatements.tsx";
import { useStatement } from "./useStatement.ts";

interface StatementViewProps {
  readonly choices: ScopeChoices;
  readonly dataHash: string;
}

/** "What can we honestly claim?": the document itself, made again at will, and the versions that were stored. */
export function StatementView({ choices, dataHash }: StatementViewProps) {
  const { scope, settings: usual } = place.value;
  const [settings, setSettings] = useState<StatementSettings>(usualStatement);
  const [stored, setStored] = useState(0);
  const making = useStatement();
  const book = useLoaded<StatementsReply>(`${dataHash} ${stored}`, fetchStatements);
  const missing = missingOf(settings);
  const definition = definitionOfSettings(settings, scope, usual.confidence, choices);
  const wanted = JSON.stringify(definition);
  const shown = making.preview === null ? null : JSON.stringify(making.preview.definition);

  // The first preview, and one for each change of the scope: the settings beside it wait for the button.
  useEffect(() => {
    if (missing === null) making.make(definition);
  }, [dataHash, JSON.stringify(scope), usual.confidence]);

  const goOn = ({ definition: from }: StatementEntry) => {
    const { serials: _, wells: __, ...whole } = from.scope;
    setSettings(settingsOf(from));
    move({ scope: whole });
    making.make(from);
  };

  return (
    <div class="statement">
      <StatementForm
        settings={settings}
        choices={choices}
        book={book.value}
        missing={missing}
        changed={shown !== null && shown !== wanted}
        busy={making.progress !== null}
        onChange={(part) => setSettings({ ...settings, ...part })}
        onMake={() => making.make(definition)}
      />
      {making.failure === null ? null : (
        <Failure
          title="The statement could not be made"
          failure={making.failure}
          {...(missing === null ? { again: () => making.make(definition) } : {})}
        />
      )}
      <StatementPreviewPanel
        making={making}
        statements={book.value?.statements ?? []}
        onStored={() => setStored(stored + 1)}
      />
      <StoredStatements book={book} onChanged={() => setStored(stored + 1)} onGoOn={goOn} />
    </div>
  );
}
