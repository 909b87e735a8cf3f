import type { ComponentChildren } from "preact";
import { type StudyResult, sayAnswer } from "../../../analysis/index.ts";
import { noticesAt } from "../../state/placeNotices.ts";
import { Notices } from "./Notices.tsx";

/** The answer in one or two sentences, first on the page, and where one can go from it. */
export const Answer = ({
  result,
  children,
}: {
  readonly result: StudyResult;
  readonly children?: ComponentChildren;
}) => (
  <>
    <p class="answer">{sayAnswer(result)}</p>
    <div class="answer-under">
      <Notices notices={noticesAt(result.notices, "answer")} />
    </div>
    {children === undefined ? null : <p class="answer-actions small">{children}</p>}
  </>
);
