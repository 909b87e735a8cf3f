import { modeCatalogue, type Row } from "../../../analysis/index.ts";

interface OtherModeProps {
  readonly kind: Row<"tool_items">["kind"] | null;
  readonly known: readonly string[];
  readonly onPick: (mode: string) => void;
}

/** Modes that the trade knows of such an item and the shop's own list does not name yet. */
export function OtherMode({ kind, known, onPick }: OtherModeProps) {
  const others = modeCatalogue.filter(
    ({ kinds, mode }) => (kind === null || kinds.includes(kind)) && !known.includes(mode),
  );
  if (others.length === 0) return null;
  return (
    <select
      class="tap"
      aria-label="Another mode, not on the shop's list yet"
      value=""
      onChange={(event) => {
        if (event.currentTarget.value !== "") onPick(event.currentTarget.value);
      }}
    >
      <option value="">another mode…</option>
      {others.map(({ mode }) => (
        <option key={mode}>{mode}</option>
      ))}
    </select>
  );
}
