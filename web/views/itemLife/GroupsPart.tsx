import { useState } from "preact/hooks";
import {
  formatHours,
  formatNumber,
  type GroupBy,
  type GroupsCompared,
  type ItemLifeResult,
  sayGroup,
  sayGroupBy,
  sayGroupCounts,
  sayGroupsCompared,
} from "../../../analysis/index.ts";
import { JointRegionChart } from "../../charts/JointRegionChart.tsx";
import { groupsPath } from "../../state/lifeParts.ts";
import { place } from "../../state/navigation.ts";
import { fileName } from "../../state/saveFile.ts";
import { ChartPanel } from "../parts/ChartPanel.tsx";
import { DataTable } from "../parts/DataTable.tsx";
import { SelectField } from "../parts/SelectField.tsx";
import { LifePartFold } from "./LifePartFold.tsx";

const ways = [
  "size",
  "tool type",
  "elastomer",
  "backup ring",
  "customer",
  "period",
] as const satisfies readonly GroupBy[];

/** Two groups of these lives side by side; the reader says what they are told apart by. */
export function GroupsPart({ result }: { readonly result: ItemLifeResult }) {
  const [by, setBy] = useState<GroupBy>(result.sizesIn.length > 1 ? "size" : "period");
  const [names, setNames] = useState<{ readonly first: string | null; readonly second: string | null }>({
    first: null,
    second: null,
  });
  return (
    <LifePartFold<GroupsCompared>
      title="Do two groups of these last alike?"
      path={groupsPath(place.value, by, names.first, names.second)}
      waitingWords="Comparing the two"
      controls={
        <div class="reading-choices">
          <SelectField
            label="Told apart by"
            value={by}
            options={ways}
            say={(way) => sayGroupBy[ways.find((known) => known === way) ?? "size"]}
            onPick={(way) => {
              setBy(ways.find((known) => known === way) ?? "size");
              setNames({ first: null, second: null });
            }}
          />
        </div>
      }
    >
      {(part) => (
        <div class="stack">
          <p>{sayGroupsCompared(part)}</p>
          {part.compared === null ? null : (
            <>
              {part.groups.length < 3 ? null : (
                <div class="reading-choices">
                  {(["first", "second"] as const).map((which) => (
                    <SelectField
                      key={which}
                      label={which === "first" ? "This one" : "against"}
                      value={part.compared?.[which].name ?? null}
                      options={part.groups.map(({ name }) => name)}
                      say={(name) => sayGroup(by, name)}
                      onPick={(name) =>
                        setNames({
                          first: part.compared?.first.name ?? null,
                          second: part.compared?.second.name ?? null,
                          [which]: name,
                        })
                      }
                    />
                  ))}
                </div>
              )}
              <DataTable
                caption="The two groups"
                file={fileName(["groups", result.item, result.mode], "csv")}
                rows={[part.compared.first, part.compared.second]}
                keyOf={({ name }) => name}
                columns={[
                  { title: sayGroupBy[by], show: ({ name }) => sayGroup(by, name), value: ({ name }) => name },
                  { title: "Failures", show: sayGroupCounts, value: ({ failures }) => failures },
                  {
                    title: "Shape",
                    numeric: true,
                    show: ({ shape }) => (shape === null ? "not known" : formatNumber(shape)),
                    value: ({ shape }) => shape,
                  },
                  {
                    title: "One in ten has failed by",
                    numeric: true,
                    show: ({ b10 }) => (b10 === null ? "not known" : formatHours(b10)),
                    value: ({ b10 }) => b10,
                  },
                ]}
              />
              {part.compared.regions.length < 2 ? null : (
                <ChartPanel
                  name="shape and scale of the two groups"
                  file={fileName(["groups", result.item, result.mode], "").slice(0, -1)}
                  draw={(size) => (
                    <JointRegionChart
                      result={part}
                      finding={`Shape and scale together, ${formatNumber(100 * (part.compared?.confidence ?? 0))} % region of each`}
                      {...size}
                    />
                  )}
                />
              )}
            </>
          )}
        </div>
      )}
    </LifePartFold>
  );
}
