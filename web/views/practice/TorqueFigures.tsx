import { formatNumber, type TorqueReading, torqueFigures } from "../../../analysis/index.ts";
import { move, place } from "../../state/navigation.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { SelectField } from "../parts/SelectField.tsx";

const systems = ["ft-lbf, in", "N·m, mm"] as const;

interface Field {
  readonly name: string;
  readonly label: string;
  readonly of: "torque" | "length" | "area" | "none";
}

const fields: readonly Field[] = [
  { name: "design", label: "Design torque", of: "torque" },
  { name: "factor", label: "Friction factor of the compound", of: "none" },
  { name: "final", label: "Final torque", of: "torque" },
  { name: "area", label: "Smaller section, pin or box", of: "area" },
  { name: "lead", label: "Lead of the thread", of: "length" },
  { name: "thread", label: "Mean thread radius", of: "length" },
  { name: "shoulder", label: "Mean shoulder radius", of: "length" },
  { name: "angle", label: "Thread half-angle, degrees", of: "none" },
  { name: "friction", label: "Coefficient of friction", of: "none" },
];

/** Torque figures on typed numbers, in both unit systems; what is typed goes into the address. */
export function TorqueFigures() {
  const { figures } = place.value;
  const system = figures.units === systems[1] ? systems[1] : systems[0];
  const set = (name: string, value: string) => move({ figures: { ...figures, [name]: value } });
  const units =
    system === systems[0]
      ? { torque: "ft-lbf", length: "in", area: "in²" }
      : { torque: "N·m", length: "mm", area: "mm²" };
  const { readings, problems } = torqueFigures(figures, system === systems[0] ? "field" : "metric");
  return (
    <div class="stack">
      <h3 class="table-name">Torque figures on your own numbers</h3>
      <form class="figures" onSubmit={(event) => event.preventDefault()}>
        <SelectField label="Units" value={system} options={systems} onPick={(value) => set("units", value ?? "")} />
        {fields.map(({ name, label, of }) => (
          <label class="field" key={name}>
            {of === "none" ? label : `${label}, ${units[of]}`}
            <input
              type="text"
              inputMode="decimal"
              value={figures[name] ?? ""}
              placeholder={usual[name] ?? ""}
              onChange={(event) => set(name, event.currentTarget.value.trim())}
            />
          </label>
        ))}
      </form>
      {problems.map((problem) => (
        <p key={problem} class="small" role="alert">
          {problem}
        </p>
      ))}
      {readings.length === 0 ? (
        <p class="muted small">
          With a design torque and a friction factor the corrected target follows; with the sizes of a shouldered joint,
          the stress that a torque implies.
        </p>
      ) : (
        <DataTable
          caption="What follows"
          rows={readings}
          keyOf={({ what }) => what}
          file="torque-figures.csv"
          columns={[
            { title: "Figure", show: ({ what }) => what, value: ({ what }) => what },
            {
              title: "Metric",
              numeric: true,
              show: (reading) => sayValue(reading, "metric"),
              value: (reading) => reading.metric?.value ?? null,
            },
            {
              title: "Field",
              numeric: true,
              show: (reading) => sayValue(reading, "field"),
              value: (reading) => reading.field?.value ?? null,
            },
            { title: "From", show: ({ from }) => from, value: ({ from }) => from },
          ]}
        />
      )}
    </div>
  );
}

/** What is taken where nothing is typed; shown greyed. */
const usual: Readonly<Record<string, string>> = { angle: "30", friction: "0.08" };

function sayValue(reading: TorqueReading, system: "metric" | "field"): string {
  const value = reading[system];
  return value === null ? "" : `${formatNumber(value.value, 4)}${value.unit === "" ? "" : ` ${value.unit}`}`;
}
