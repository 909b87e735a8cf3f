import { formatAge, formatDate, type ToolHistoryResult } from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";

const stateWords = { running: "in use", failed: "failed, not restored yet", "not known": "not known" } as const;

/** Present age of each item and mode, and what it is counted from. */
export const AgesTable = ({ result }: { readonly result: ToolHistoryResult }) => (
  <DataTable
    caption="Present ages"
    rows={result.ages}
    keyOf={(age) => `${age.item} ${age.mode}`}
    file={fileName(["ages", result.tool.serial], "csv")}
    fileColumns={[{ title: "Item", value: ({ item }) => item }]}
    group={{ title: "Item", keyOf: ({ item }) => item, show: ({ item }) => item }}
    columns={[
      {
        title: "Mode",
        show: ({ item, mode }) => (
          <Link to={{ view: "item-life", scope: { item, mode, toolType: result.tool.tool_type } }}>{mode}</Link>
        ),
        value: ({ mode }) => mode,
      },
      { title: "Age", numeric: true, show: ({ age }) => <strong>{formatAge(age)}</strong> },
      {
        title: "Counted from",
        show: ({ since, sinceOn }) => `${since}, ${formatDate(sinceOn)}`,
        value: ({ since }) => since,
      },
      {
        title: "Restored when",
        show: ({ restoredBy }) => (restoredBy === "renewed" ? "renewed" : "made up"),
        value: ({ restoredBy }) => restoredBy,
      },
      { title: "State", show: ({ state }) => stateWords[state], value: ({ state }) => state },
    ]}
  />
);
