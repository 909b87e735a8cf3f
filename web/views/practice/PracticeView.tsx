import { useState } from "preact/hooks";
import type { BuildPracticeResult, StudyProgress } from "../../../analysis/index.ts";
import { buildPracticePath, fetchBuildPractice } from "../../state/api.ts";
import { place } from "../../state/navigation.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { Answered } from "../parts/Answered.tsx";
import { PracticeAnswer } from "./PracticeAnswer.tsx";

/** "What in the build makes the difference?" */
export function PracticeView({ dataHash }: { readonly dataHash: string }) {
  const [progress, setProgress] = useState<StudyProgress | null>(null);
  const path = buildPracticePath(place.value);
  const loaded = useLoaded<BuildPracticeResult>(`${dataHash} ${path}`, (signal) => {
    setProgress(null);
    return fetchBuildPractice(path, signal, setProgress);
  });
  return (
    <Answered loaded={loaded} waitingWords={sayProgress(progress)} failureTitle="There is no answer to this yet">
      {(result) => <PracticeAnswer result={result} />}
    </Answered>
  );
}

function sayProgress(progress: StudyProgress | null): string {
  if (progress === null) return "Laying every build beside every failure…";
  return `Comparing, ${Math.round(100 * progress.share)} % done: ${progress.doing}…`;
}
