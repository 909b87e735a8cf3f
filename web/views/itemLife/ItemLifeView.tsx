import type { ItemLifeResult, ScopeChoices } from "../../../analysis/index.ts";
import { fetchItemLife, itemLifePath } from "../../state/api.ts";
import { place } from "../../state/navigation.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { Answered } from "../parts/Answered.tsx";
import { ChooseItem } from "./ChooseItem.tsx";
import { ItemLifeAnswer } from "./ItemLifeAnswer.tsx";

/** "How long does this item last, this mode?" */
export function ItemLifeView({ choices, dataHash }: { readonly choices: ScopeChoices; readonly dataHash: string }) {
  const { scope } = place.value;
  const chosen = scope.item !== null && scope.mode !== null;
  const path = itemLifePath(place.value);
  const loaded = useLoaded<ItemLifeResult>(chosen ? `${dataHash} ${path}` : null, (signal) =>
    fetchItemLife(path, signal),
  );
  if (!chosen) return <ChooseItem choices={choices} scope={scope} />;
  return (
    <Answered
      loaded={loaded}
      waitingWords="Following each life and fitting…"
      failureTitle="There is no answer to this yet"
    >
      {(result) => <ItemLifeAnswer result={result} />}
    </Answered>
  );
}
