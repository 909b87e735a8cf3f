/** A worker for tests of the pool. `seed` says what to do: below 0 refuse, 0 answer at once, else stay busy so many ms. */
import type { Answer, Task } from "../../../server/work/tasks.ts";

const received: string[] = [];

export default function answer({ question, data, progress }: Task): Answer {
  if (data.records === null && !received.includes(data.dataHash)) return { kind: "records wanted" };
  if (data.records !== null) received.push(data.dataHash);
  const seed = "definition" in question && "seed" in question.definition ? question.definition.seed : 0;
  if (seed < 0) return { kind: "refused", code: "no-lives", facts: { item: "J1" } };
  if (question.kind === "part") progress?.postMessage({ share: 0.5, doing: "" });
  const end = performance.now() + seed;
  while (performance.now() < end) Math.sqrt(end);
  if (question.kind === "study") return { kind: "refused", code: "no-lives", facts: {} };
  // The reply of a page of lives tells how often records were sent, and how many rows there were.
  return { kind: "lives", page: { total: received.length, lives: [] } };
}
