import { useState } from "preact/hooks";
import { countOf, type FilePreview, sayOrigin, tableDescriptors } from "../../../analysis/index.ts";
import { excludeRows } from "../../state/api.ts";
import { initials } from "../../state/initials.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { keyWords } from "../parts/keyWords.ts";
import { useWho, Who } from "../parts/Who.tsx";

type Gone = FilePreview["gone"][number];

const atFirst = 8;
const placeOf = ({ row }: Gone): string => `${row.table} ${row.key}`;

/**
 * Rows that an earlier sheet of this shape held and this one does not. They stay stored; what should not count any more
 * is excluded by an answer, with who and why.
 */
export function GoneRows({ gone }: { readonly gone: FilePreview["gone"] }) {
  const [all, setAll] = useState(false);
  const [ticked, setTicked] = useState<ReadonlySet<string>>(new Set());
  const [excluded, setExcluded] = useState<ReadonlySet<string>>(new Set());
  const [why, setWhy] = useState("");
  const [told, setTold] = useState("");
  const who = useWho();
  if (gone.length === 0) return null;
  const tick = (place: string) => {
    const next = new Set(ticked);
    if (!next.delete(place)) next.add(place);
    setTicked(next);
  };
  const exclude = async () => {
    if (!who.settle()) return;
    const chosen = gone.filter((row) => ticked.has(placeOf(row)));
    try {
      await excludeRows(
        chosen.map(({ row }) => row),
        initials.value,
        why.trim(),
      );
      setExcluded(new Set([...excluded, ...ticked]));
      setTicked(new Set());
      setTold(`${countOf(chosen.length, "row")} excluded: ${why.trim()}`);
      setWhy("");
    } catch (cause) {
      setTold(cause instanceof Error ? cause.message : String(cause));
    }
  };
  return (
    <div>
      <DataTable
        caption={`Stored before, not on this sheet any more (${gone.length})`}
        fill
        rows={all ? gone : gone.slice(0, atFirst)}
        keyOf={placeOf}
        columns={[
          { title: "Row", show: ({ row }) => `${tableDescriptors[row.table].title}: ${keyWords(row.key)}` },
          { title: "Where it stood", show: ({ origin }) => sayOrigin(origin) },
          {
            title: "Should not count",
            show: (row) =>
              excluded.has(placeOf(row)) ? (
                "excluded"
              ) : (
                <label class="tick">
                  <input type="checkbox" checked={ticked.has(placeOf(row))} onChange={() => tick(placeOf(row))} />
                  <span class="unseen">{keyWords(row.row.key)} should not count any more</span>
                </label>
              ),
          },
        ]}
      />
      {gone.length > atFirst ? (
        <button type="button" class="plain small" onClick={() => setAll(!all)}>
          {all ? `Only the first ${atFirst}` : `All ${gone.length}`}
        </button>
      ) : null}
      {ticked.size === 0 ? (
        <p class="small muted">They stay in the records; nothing is deleted because a sheet left it out.</p>
      ) : (
        <form
          class="row-of-buttons after-list"
          onSubmit={(event) => {
            event.preventDefault();
            void exclude();
          }}
        >
          <label class="field filter">
            Why {ticked.size === 1 ? "it" : "they"} should not count
            <input value={why} maxLength={500} onInput={(event) => setWhy(event.currentTarget.value)} />
          </label>
          <Who who={who} words="Excluded by" />
          <button type="submit" disabled={why.trim() === ""}>
            Exclude {countOf(ticked.size, "row")}
          </button>
        </form>
      )}
      <p class="small" role="status">
        {told}
      </p>
    </div>
  );
}
