import type { RedressIntervalResult } from "../../../analysis/index.ts";
import { fetchRedressInterval, redressIntervalPath } from "../../state/api.ts";
import { place } from "../../state/navigation.ts";
import { useWatched } from "../../state/useWatched.ts";
import { Answered } from "../parts/Answered.tsx";
import { IntervalAnswer } from "./IntervalAnswer.tsx";

/** "When do we redress?" */
export function IntervalView({ dataHash }: { readonly dataHash: string }) {
  const path = redressIntervalPath(place.value);
  const { loaded, doing } = useWatched<RedressIntervalResult>(`${dataHash} ${path}`, (signal, onProgress) =>
    fetchRedressInterval(path, signal, onProgress),
  );
  return (
    <Answered
      loaded={loaded}
      waitingWords={doing ?? "Fitting every mode and weighing the intervals…"}
      failureTitle="No interval can be worked out from this yet"
    >
      {(result) => <IntervalAnswer result={result} />}
    </Answered>
  );
}
