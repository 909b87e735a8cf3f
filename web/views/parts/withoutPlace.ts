import { type Problem, sayOrigin, sayProblem } from "../../../analysis/index.ts";

/** A problem in words where its place is shown beside it. */
export function withoutPlace(problem: Problem): string {
  const sentence = sayProblem(problem);
  const end = sentence.indexOf(": ");
  return sentence.startsWith(sayOrigin(problem.origin)) && end > 0 ? sentence.slice(end + 2) : sentence;
}
