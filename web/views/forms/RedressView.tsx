import { useState } from "preact/hooks";
import { countOf, type FormEntry, formatNumber, type ToolHistoryResult } from "../../../analysis/index.ts";
import { fieldsOf } from "../../state/formTables.ts";
import { type ItemAtRedress, itemsAtRedress, newRedress } from "../../state/rowDefaults.ts";
import { sayWrong } from "../../state/sayWrong.ts";
import { dayOf } from "../../state/teardownAtHand.ts";
import { typedRow } from "../../state/typedValue.ts";
import { FormFrame } from "./FormFrame.tsx";
import { RowFields } from "./RowFields.tsx";
import { StoreBar } from "./StoreBar.tsx";

/** A build or redress of this tool: what was renewed, what was carried over, which joints were made up and how tight. */
export function RedressView({ result }: { readonly result: ToolHistoryResult }) {
  const { serial } = result.tool;
  const [started] = useState(() => newRedress(result, dayOf(new Date())));
  const [typed, setTyped] = useState(started.values);
  const [items, setItems] = useState(() => itemsAtRedress(result));
  const change = (item: string, part: Partial<ItemAtRedress>) =>
    setItems(items.map((each) => (each.item === item ? { ...each, ...part } : each)));
  const head = typedRow(fieldsOf("redresses"), typed);
  const redress = String(head.values.redress ?? "");
  const rows = items.map((item) => rowsOf(redress, item));
  const wrong = rows.map((row) => row.wrong).find((each) => each !== null) ?? null;
  const unsaid = items.filter(({ renewed, kind, madeUp }) => renewed === null && !(kind === "joint" && madeUp));
  return (
    <FormFrame asks={`A redress of ${serial}`} back={`Back to the story of ${serial}`}>
      <div class="card">
        <div class="tap-band">
          <RowFields
            table="redresses"
            values={typed}
            leaveOut={["serial"]}
            choices={started.choices}
            because={started.because}
            onValue={(field, value) => setTyped({ ...typed, [field]: value })}
          />
        </div>
        <p class="tap-band small muted">Items as at the redress before; tap what is otherwise this time.</p>
        {items.map((item) => (
          <ItemBand key={item.item} item={item} onChange={(part) => change(item.item, part)} />
        ))}
      </div>
      <StoreBar
        adds
        entries={[{ table: "redresses", values: head.values }, ...rows.flatMap((row) => row.entries)]}
        missing={
          sayWrong("redresses", head.wrong) ??
          wrong ??
          (unsaid.length === 0 ? null : `${unsaid[0]?.item ?? ""}: renewed or carried over?`)
        }
        says={`Redress ${redress}: ${countOf(items.filter(({ renewed }) => renewed === true).length, "item")} renewed, ${countOf(items.filter(({ madeUp }) => madeUp).length, "joint")} made up`}
      />
    </FormFrame>
  );
}

interface ItemBandProps {
  readonly item: ItemAtRedress;
  readonly onChange: (part: Partial<ItemAtRedress>) => void;
}

function ItemBand({ item: { item, kind, renewed, madeUp, fitted, joint }, onChange }: ItemBandProps) {
  const target = joint.target_torque_Nm;
  return (
    <fieldset class="tap-band item-band">
      <legend>
        {item} <span class="muted">{kind}</span>
      </legend>
      <div class="pair">
        {[
          { is: true, name: "renewed" },
          { is: false, name: "carried over" },
        ].map(({ is, name }) => (
          <label key={name} class="choice">
            <input
              type="radio"
              name={`${item} renewed`}
              checked={renewed === is}
              onChange={() => onChange({ renewed: is })}
            />
            <span class="choice-name">
              {name}
              <span class="unseen">: {item}</span>
            </span>
          </label>
        ))}
        {kind === "joint" ? (
          <label class="choice">
            <input
              type="checkbox"
              checked={madeUp}
              onChange={(event) => onChange({ madeUp: event.currentTarget.checked })}
            />
            <span class="choice-name">
              made up<span class="unseen">: {item}</span>
            </span>
          </label>
        ) : null}
      </div>
      {madeUp ? (
        <RowFields
          table="joints"
          values={joint}
          show={["final_torque_Nm", "new_thread"]}
          because={typeof target === "number" ? { final_torque_Nm: `target ${formatNumber(target)} N·m` } : {}}
          onValue={(field, value) => onChange({ joint: { ...joint, [field]: value } })}
        />
      ) : null}
      <details class="how">
        <summary>
          More<span class="unseen"> about {item}</span>
        </summary>
        <RowFields
          table="fitted_items"
          values={fitted}
          leaveOut={["redress", "item", "renewed"]}
          onValue={(field, value) => onChange({ fitted: { ...fitted, [field]: value } })}
        />
        {madeUp ? (
          <RowFields
            table="joints"
            values={joint}
            leaveOut={["redress", "joint", "final_torque_Nm", "new_thread"]}
            onValue={(field, value) => onChange({ joint: { ...joint, [field]: value } })}
          />
        ) : null}
      </details>
    </fieldset>
  );
}

interface ItemRows {
  readonly entries: readonly FormEntry[];
  readonly wrong: string | null;
}

function rowsOf(redress: string, { item, renewed, madeUp, fitted, joint }: ItemAtRedress): ItemRows {
  const named = (table: "fitted_items" | "joints", key: Readonly<Record<string, unknown>>, typed: object) => {
    const row = typedRow(fieldsOf(table), { ...typed, ...key });
    const wrong = sayWrong(table, row.wrong);
    return {
      entry: { table, values: row.values } satisfies FormEntry,
      wrong: wrong === null ? null : `${item}, ${wrong}`,
    };
  };
  const rows = [
    ...(renewed === null ? [] : [named("fitted_items", { redress, item, renewed }, fitted)]),
    ...(madeUp ? [named("joints", { redress, joint: item }, joint)] : []),
  ];
  return { entries: rows.map(({ entry }) => entry), wrong: rows.find(({ wrong }) => wrong !== null)?.wrong ?? null };
}
