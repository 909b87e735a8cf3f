import { useState } from "preact/hooks";
import { formatDate, type StatementEntry, type StatementsReply } from "../../../analysis/index.ts";
import { initials } from "../../state/initials.ts";
import { advanceStatement, fileFormats, storedFile } from "../../state/statementRequests.ts";
import type { Loaded } from "../../state/useLoaded.ts";
import { Failure } from "../parts/States.tsx";
import { useWho, Who } from "../parts/Who.tsx";

interface StoredStatementsProps {
  readonly book: Loaded<StatementsReply>;
  readonly onChanged: () => void;
  readonly onGoOn: (entry: StatementEntry) => void;
}

/** Every stored version, the latest first, with its next step. */
export function StoredStatements({ book, onChanged, onGoOn }: StoredStatementsProps) {
  if (book.failure !== null)
    return <Failure title="The stored statements cannot be read" failure={book.failure} again={book.again} />;
  const statements = book.value?.statements ?? [];
  // Shown from the first one on: by then it is known on this browser who stored it.
  return statements.length === 0 ? null : <Versions {...{ statements, onChanged, onGoOn }} />;
}

interface VersionsProps extends Pick<StoredStatementsProps, "onChanged" | "onGoOn"> {
  readonly statements: readonly StatementEntry[];
}

function Versions({ statements, onChanged, onGoOn }: VersionsProps) {
  const who = useWho();
  const [said, setSaid] = useState<{ readonly words: string; readonly wrong: boolean } | null>(null);
  const newest = new Map<number, number>();
  for (const { statement, version } of statements) newest.set(statement, Math.max(version, newest.get(statement) ?? 0));

  const advance = async (entry: StatementEntry, action: "approve" | "issue") => {
    if (!who.settle()) return;
    try {
      const { statement, version, state } = await advanceStatement(entry, action, initials.value);
      setSaid({ words: `Statement ${statement}, version ${version}: ${state}.`, wrong: false });
      onChanged();
    } catch (error) {
      setSaid({ words: error instanceof Error ? error.message : String(error), wrong: true });
    }
  };

  return (
    <section class="card statement-stored" aria-labelledby="stored-statements">
      <h2 id="stored-statements">Stored statements</h2>
      <Who who={who} words="Approved and issued by" label="Your initials, printed on the statement" />
      {said === null ? null : <p role={said.wrong ? "alert" : "status"}>{said.words}</p>}
      <div class="table-wrap">
        <table>
          <thead>
            <tr>
              <th scope="col">Statement</th>
              <th scope="col">About</th>
              <th scope="col">State</th>
              <th scope="col">Files</th>
              <th scope="col">Next</th>
            </tr>
          </thead>
          <tbody>
            {statements.map((entry) => (
              <tr key={`${entry.statement} ${entry.version}`}>
                <td>
                  {entry.statement}, version {entry.version}
                </td>
                <td>
                  {entry.title}: {entry.subtitle}
                </td>
                <td>{stateWords(entry)}</td>
                <td>
                  {fileFormats.map(({ format, words }, index) => (
                    <span key={format}>
                      {index === 0 ? null : ", "}
                      <a
                        href={storedFile(entry, `statement.${format}`)}
                        aria-label={`${words} of statement ${entry.statement}, version ${entry.version}`}
                        download={`statement-${entry.statement}-v${entry.version}.${format}`}
                      >
                        {words}
                      </a>
                    </span>
                  ))}
                </td>
                <td>
                  {newest.get(entry.statement) === entry.version && entry.state !== "issued" ? (
                    <button
                      type="button"
                      onClick={() => void advance(entry, entry.state === "draft" ? "approve" : "issue")}
                    >
                      {entry.state === "draft" ? "Approve" : "Issue"}
                    </button>
                  ) : null}{" "}
                  <button type="button" class="plain" onClick={() => onGoOn(entry)}>
                    Make again
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function stateWords({ drafted, approved, issued }: StatementEntry): string {
  const step = (words: string, { who, when }: StatementEntry["drafted"]) => `${words} by ${who} on ${formatDate(when)}`;
  if (issued !== null) return step("issued", issued);
  return approved === null ? step("draft", drafted) : step("approved", approved);
}
