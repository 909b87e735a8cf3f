import { useEffect, useState } from "preact/hooks";
import { type AddedRows, type Mapping, type Renewal, renewalsOf, withRenewals } from "../../../analysis/index.ts";

interface RenewalFormProps {
  /** The mapping whose sheet does not say what a build renewed. */
  readonly mapping: Mapping;
  readonly disabled: boolean;
  readonly onMapping: (mapping: Mapping) => void;
}

type Answers = Readonly<Record<string, Readonly<Record<string, Renewal>>>>;

/** "A rebuild here renews: main seal yes, mandrel no": a tick an item, in place of what was proposed. */
export function RenewalForm({ mapping, disabled, onMapping }: RenewalFormProps) {
  // The statements as they first stood: they know which column tells of a thread, and what a new build is called.
  const [proposed] = useState<readonly AddedRows[]>(mapping.addRows);
  const [answers, setAnswers] = useState<Answers>({});
  const [changed, setChanged] = useState(false);
  useEffect(() => setChanged(false), [mapping]);
  const answer = (statement: string, item: string, renewal: Renewal) => {
    setAnswers({ ...answers, [statement]: { ...answers[statement], [item]: renewal } });
    setChanged(true);
  };
  const give = () =>
    onMapping({ ...mapping, addRows: proposed.map((added) => withRenewals(added, answers[added.statement] ?? {})) });
  const named = proposed.filter((added) => renewalsOf(added).length > 0);
  if (named.length === 0) return null;
  return (
    <details class="how renewals">
      <summary>It is otherwise here</summary>
      {named.map((added) => (
        <fieldset key={added.statement}>
          <legend>{isOfNewBuilds(added) ? "A new build renews" : "A rebuild renews"}</legend>
          {renewalsOf(added).map(({ item, renewal, column }) => (
            <Item
              key={item}
              item={item}
              proposed={renewal}
              column={column}
              value={answers[added.statement]?.[item] ?? renewal}
              disabled={disabled}
              onAnswer={(value) => answer(added.statement, item, value)}
            />
          ))}
        </fieldset>
      ))}
      <p class="after-list">
        <button type="button" disabled={disabled || !changed} onClick={give}>
          Read the sheet with these answers
        </button>
      </p>
    </details>
  );
}

const isOfNewBuilds = (added: AddedRows): boolean =>
  renewalsOf(added).every(({ renewal }) => renewal === "on a new build");

interface ItemProps {
  readonly item: string;
  readonly proposed: Renewal;
  readonly column: string | null;
  readonly value: Renewal;
  readonly disabled: boolean;
  readonly onAnswer: (renewal: Renewal) => void;
}

function Item({ item, proposed, column, value, disabled, onAnswer }: ItemProps) {
  if (proposed === "as the column says")
    return (
      <label class="renewal">
        {item}
        <select
          disabled={disabled}
          value={value}
          onChange={(event) => {
            const picked = (["as the column says", "renewed", "carried over"] as const).find(
              (each) => each === event.currentTarget.value,
            );
            if (picked !== undefined) onAnswer(picked);
          }}
        >
          <option value="as the column says">where “{column}” says so</option>
          <option value="renewed">every time</option>
          <option value="carried over">never</option>
        </select>
      </label>
    );
  const yes = proposed === "on a new build" ? proposed : "renewed";
  return (
    <label class="renewal">
      <input
        type="checkbox"
        disabled={disabled}
        checked={value === yes}
        onChange={(event) => onAnswer(event.currentTarget.checked ? yes : "carried over")}
      />
      {item}
    </label>
  );
}
