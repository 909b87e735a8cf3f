import { useState } from "preact/hooks";
import { countOf } from "../../../analysis/index.ts";
import { areInitials, initials, rememberInitials } from "../../state/initials.ts";

interface StoreFormProps {
  readonly ready: boolean;
  readonly open: number;
  readonly busy: string | null;
  readonly onStore: () => void;
}

/** The last step: who answers (asked once), then all of it is stored as one batch or none of it. */
export function StoreForm({ ready, open, busy, onStore }: StoreFormProps) {
  const known = initials.value;
  const [typed, setTyped] = useState("");
  const [asks, setAsks] = useState(known === "");
  const [missing, setMissing] = useState(false);
  const store = () => {
    if (asks) {
      if (!areInitials(typed)) return setMissing(true);
      rememberInitials(typed);
      setAsks(false);
    }
    onStore();
  };
  return (
    <form
      class="row-of-buttons"
      onSubmit={(event) => {
        event.preventDefault();
        store();
      }}
    >
      {asks ? (
        <label class="field initials">
          Your initials, kept with what you confirmed
          <input
            value={typed}
            maxLength={12}
            autocomplete="off"
            aria-invalid={missing && !areInitials(typed)}
            aria-describedby="initials-help"
            onInput={(event) => setTyped(event.currentTarget.value)}
          />
        </label>
      ) : (
        <p class="small">
          Stored as confirmed by <strong>{known}</strong>.{" "}
          <button type="button" class="plain" onClick={() => setAsks(true)}>
            Someone else
          </button>
        </p>
      )}
      <button type="submit" class="main" disabled={!ready || busy !== null}>
        Store this drop
      </button>
      <p class="small muted" id="initials-help">
        {missing && !areInitials(typed)
          ? "One to twelve letters, please."
          : ready
            ? "All of it becomes one batch, or none of it."
            : `${countOf(open, "thing")} above ${open === 1 ? "is" : "are"} not confirmed yet.`}
      </p>
    </form>
  );
}
