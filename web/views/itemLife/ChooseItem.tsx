import type { Scope, ScopeChoices } from "../../../analysis/index.ts";
import { itemOptions } from "../../state/scopeOptions.ts";
import { Link } from "../parts/Link.tsx";
import { Empty } from "../parts/States.tsx";

/** A life belongs to one item and one mode: offers those in the records. */
export function ChooseItem({ choices, scope }: { readonly choices: ScopeChoices; readonly scope: Scope }) {
  const items = itemOptions(choices, scope.toolType).filter(
    ({ item, modes }) =>
      (scope.item === null || item === scope.item) && (scope.mode === null || modes.includes(scope.mode)),
  );
  if (items.every(({ modes }) => modes.length === 0))
    return (
      <Empty title="No item with a failure mode in this scope">
        <p>
          A life needs an item and a way it fails. The sheets stored so far name neither for this scope; widen the
          scope, or drop in the teardown sheets that name what was found.
        </p>
        <Link to={{ view: "drop" }} class="button main">
          Drop in sheets
        </Link>
      </Empty>
    );
  return (
    <Empty title="Which item, and which way of failing?">
      <p>Modes age differently, so one life answers for one of them at a time.</p>
      <ul class="choice-list">
        {items.map(({ item, modes }) => (
          <li key={item}>
            <h3>{item}</h3>
            <ul>
              {modes
                .filter((mode) => scope.mode === null || mode === scope.mode)
                .map((mode) => (
                  <li key={mode}>
                    <Link to={{ scope: { item, mode } }}>
                      {mode}
                      <span class="unseen"> of {item}</span>
                    </Link>
                  </li>
                ))}
            </ul>
          </li>
        ))}
      </ul>
    </Empty>
  );
}
