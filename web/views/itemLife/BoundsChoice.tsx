import { type ItemLifeResult, sayBoundsChoice, sayBoundsUsed } from "../../../analysis/index.ts";
import { move, place } from "../../state/navigation.ts";
import { boundsChoices } from "../../state/place.ts";
import { SelectField } from "../parts/SelectField.tsx";

/** How the bounds were had, and the other ways to have them, folded away under the numbers. */
export function BoundsChoice({ result }: { readonly result: ItemLifeResult }) {
  const { bounds, sides } = place.value.settings;
  if (result.fit === null && result.readings.b10.lower === null) return null;
  return (
    <details class="how small">
      <summary>{sayBoundsUsed(result)}</summary>
      <div class="reading-choices">
        <SelectField
          label="Bounds are had"
          all="as the lives ask for"
          value={bounds}
          options={boundsChoices}
          say={(choice) => sayBoundsChoice[boundsChoices.find((known) => known === choice) ?? "likelihood ratio"]}
          onPick={(choice) => move({ settings: { bounds: boundsChoices.find((known) => known === choice) ?? null } })}
        />
        <label class="check">
          <input
            type="checkbox"
            checked={sides === "lower"}
            onChange={(event) => move({ settings: { sides: event.currentTarget.checked ? "lower" : "both" } })}
          />
          Only a least value, for a claim
        </label>
      </div>
    </details>
  );
}
