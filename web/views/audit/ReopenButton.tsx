import { useState } from "preact/hooks";
import type { Answer } from "../../../analysis/index.ts";
import { giveAnswers } from "../../state/auditRequests.ts";
import { initials } from "../../state/initials.ts";
import { loadShopState } from "../../state/shopState.ts";
import { keyWords } from "../parts/keyWords.ts";
import { useWho, Who } from "../parts/Who.tsx";

/** Takes an answer back: the sheet's value counts again and is in doubt again. The answer stays in the list. */
export function ReopenButton({ answer }: { readonly answer: Answer }) {
  const [asks, setAsks] = useState(false);
  const [told, setTold] = useState("");
  const who = useWho();
  const reopen = async () => {
    if (!who.settle()) return;
    const { table, key, column, was, rule } = answer;
    try {
      await giveAnswers(
        [{ table, key, column, was, becomes: null, verdict: "reopen", rule, why: "taken back" }],
        initials.value,
      );
      await loadShopState();
    } catch (cause) {
      setTold(cause instanceof Error ? cause.message : String(cause));
    }
  };
  if (!asks)
    return (
      <button type="button" class="plain" onClick={() => setAsks(true)}>
        Take back…<span class="unseen"> {keyWords(answer.key)}</span>
      </button>
    );
  return (
    <form
      class="reopen"
      onSubmit={(event) => {
        event.preventDefault();
        void reopen();
      }}
    >
      <Who who={who} words="By" label="Your initials" />
      <button type="submit">Take back</button>
      <button type="button" class="plain" onClick={() => setAsks(false)}>
        Leave it
      </button>
      <p class="wrong" role="alert">
        {told}
      </p>
    </form>
  );
}
