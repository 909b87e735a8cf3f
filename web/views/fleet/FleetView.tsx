import type { FleetResult } from "../../../analysis/index.ts";
import { fetchFleet, fleetPath } from "../../state/api.ts";
import { place } from "../../state/navigation.ts";
import { useWatched } from "../../state/useWatched.ts";
import { Answered } from "../parts/Answered.tsx";
import { FleetAnswer } from "./FleetAnswer.tsx";

/** "Which tool may go out?" */
export function FleetView({ dataHash }: { readonly dataHash: string }) {
  const path = fleetPath(place.value);
  const { loaded, doing } = useWatched<FleetResult>(`${dataHash} ${path}`, (signal, onProgress) =>
    fetchFleet(path, signal, onProgress),
  );
  return (
    <Answered
      loaded={loaded}
      waitingWords={doing ?? "Reading every tool by the ages of its items…"}
      failureTitle="The board cannot be read yet"
    >
      {(result) => <FleetAnswer result={result} />}
    </Answered>
  );
}
