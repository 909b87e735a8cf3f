import { fetchAudit } from "../../state/auditRequests.ts";
import { place } from "../../state/navigation.ts";
import { writeScope } from "../../state/place.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { Answered } from "../parts/Answered.tsx";
import { AuditOverview } from "./AuditOverview.tsx";
import { KindView } from "./KindView.tsx";

/** "Can I trust what is under it?": what the records leave in doubt, and what was decided. */
export function AuditView({ dataHash }: { readonly dataHash: string }) {
  const { scope, doubt } = place.value;
  const loaded = useLoaded(`audit ${dataHash} ${writeScope(scope)}`, (signal) => fetchAudit(scope, signal));
  return (
    <Answered loaded={loaded} waitingWords="Going through every row…" failureTitle="The records cannot be gone through">
      {(audit) =>
        doubt === null ? (
          <AuditOverview audit={audit} dataHash={dataHash} />
        ) : (
          <KindView key={JSON.stringify(doubt)} kind={doubt} audit={audit} dataHash={dataHash} />
        )
      }
    </Answered>
  );
}
