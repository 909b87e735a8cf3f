import type { WhatFailsResult } from "../../../analysis/index.ts";
import { fetchWhatFails, whatFailsPath } from "../../state/api.ts";
import { place } from "../../state/navigation.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { Answered } from "../parts/Answered.tsx";
import { WhatFailsAnswer } from "./WhatFailsAnswer.tsx";

/** "What fails, and where in the tool?" */
export function WhatFailsView({ dataHash }: { readonly dataHash: string }) {
  const path = whatFailsPath(place.value);
  const loaded = useLoaded<WhatFailsResult>(`${dataHash} ${path}`, (signal) => fetchWhatFails(path, signal));
  return (
    <Answered loaded={loaded} waitingWords="Counting failures and hours…" failureTitle="There is no answer to this yet">
      {(result) => <WhatFailsAnswer result={result} />}
    </Answered>
  );
}
