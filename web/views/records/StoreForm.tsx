import { countOf } from "../../../analysis/index.ts";
import { useWho, Who } from "../parts/Who.tsx";

interface StoreFormProps {
  readonly ready: boolean;
  readonly open: number;
  readonly busy: string | null;
  readonly onStore: () => void;
}

/** The last step: who answers (asked once), then all of it is stored as one batch or none of it. */
export function StoreForm({ ready, open, busy, onStore }: StoreFormProps) {
  const who = useWho();
  return (
    <form
      class="row-of-buttons"
      onSubmit={(event) => {
        event.preventDefault();
        if (who.settle()) onStore();
      }}
    >
      <Who who={who} words="Stored as confirmed by" />
      <button type="submit" class="main" disabled={!ready || busy !== null}>
        Store this drop
      </button>
      <p class="small muted">
        {ready
          ? "All of it becomes one batch, or none of it."
          : `${countOf(open, "thing")} above ${open === 1 ? "is" : "are"} not confirmed yet.`}
      </p>
    </form>
  );
}
