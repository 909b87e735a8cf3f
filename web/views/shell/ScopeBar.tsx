import { useCallback, useId, useState } from "preact/hooks";
import { type Scope, sayScope } from "../../../analysis/index.ts";
import { move, place } from "../../state/navigation.ts";
import { usualSettings, wholeFleet } from "../../state/place.ts";
import { scopeAfter } from "../../state/scopeOptions.ts";
import { shopState } from "../../state/shopState.ts";
import { useEscape } from "../parts/useEscape.ts";
import { ScopeForm } from "./ScopeForm.tsx";

const isWhole = (scope: Scope) => Object.values(scope).every((value) => value === null);

/** What every question is asked about, as a sentence; opens into plain controls. */
export function ScopeBar() {
  const [open, setOpen] = useState(false);
  const form = useId();
  useEscape(
    open,
    useCallback(() => setOpen(false), []),
  );
  const { scope, settings } = place.value;
  const choices = shopState.value.known?.choices ?? null;
  const change = (part: Partial<Scope>) => {
    if (choices !== null) move({ scope: scopeAfter(choices, scope, part) });
  };
  return (
    <section class="scope" aria-label="Scope">
      <div class="scope-line">
        <p class="scope-sentence">{sayScope(scope)}</p>
        <button
          type="button"
          aria-expanded={open}
          aria-controls={form}
          disabled={choices === null}
          onClick={() => setOpen(!open)}
        >
          {open ? "Done" : "Change scope"}
        </button>
        {isWhole(scope) ? null : (
          <button type="button" class="plain small" onClick={() => move({ scope: wholeFleet })}>
            Whole fleet
          </button>
        )}
      </div>
      <div id={form} hidden={!open}>
        {open && choices !== null ? (
          <ScopeForm
            choices={choices}
            scope={scope}
            settings={settings}
            onScope={change}
            onSettings={(part) => move({ settings: part })}
            onReset={() => move({ scope: wholeFleet, settings: usualSettings })}
          />
        ) : null}
      </div>
    </section>
  );
}
