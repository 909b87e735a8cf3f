import type { DateOrder } from "../../../analysis/index.ts";

export const dateOrders: readonly DateOrder[] = ["dmy", "mdy", "ymd"];
export const dateOrderWords: Readonly<Record<DateOrder, string>> = {
  dmy: "day, month, year",
  mdy: "month, day, year",
  ymd: "year, month, day",
};

interface DateOrderSelectProps {
  readonly label: string;
  readonly order: DateOrder;
  readonly disabled: boolean;
  readonly onPick: (order: DateOrder) => void;
}

/** In which order the dates of a column are written. */
export const DateOrderSelect = ({ label, order, disabled, onPick }: DateOrderSelectProps) => (
  <select
    class="unit-select"
    aria-label={label}
    disabled={disabled}
    value={order}
    onChange={(event) => {
      const picked = dateOrders.find((each) => each === event.currentTarget.value);
      if (picked !== undefined) onPick(picked);
    }}
  >
    {dateOrders.map((each) => (
      <option key={each} value={each}>
        {dateOrderWords[each]}
      </option>
    ))}
  </select>
);
