import type { BuildPracticeResult } from "../../../analysis/index.ts";
import { buildPracticePath, fetchBuildPractice } from "../../state/api.ts";
import { place } from "../../state/navigation.ts";
import { useWatched } from "../../state/useWatched.ts";
import { Answered } from "../parts/Answered.tsx";
import { PracticeAnswer } from "./PracticeAnswer.tsx";

/** "What in the build makes the difference?" */
export function PracticeView({ dataHash }: { readonly dataHash: string }) {
  const path = buildPracticePath(place.value);
  const { loaded, doing } = useWatched<BuildPracticeResult>(`${dataHash} ${path}`, (signal, onProgress) =>
    fetchBuildPractice(path, signal, onProgress),
  );
  return (
    <Answered
      loaded={loaded}
      waitingWords={doing ?? "Laying every build beside every failure…"}
      failureTitle="There is no answer to this yet"
    >
      {(result) => <PracticeAnswer result={result} />}
    </Answered>
  );
}
