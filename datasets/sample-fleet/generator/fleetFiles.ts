/** Every committed file of the sample fleet, as text: the same on every platform. */
import { defaultFleet, type FleetOptions } from "./options.ts";
import { simulateFleet } from "./simulateFleet.ts";
import { effectTruths, modeTruths, practiceTruths } from "./truth.ts";
import { writeSheets } from "./writeSheets.ts";

const json = (value: unknown) => `${JSON.stringify(value, null, 1)}\n`;
/** One entry a line: long lists stay readable in a difference. */
const jsonLines = (values: readonly unknown[]) => `[\n${values.map((value) => JSON.stringify(value)).join(",\n")}\n]\n`;

/** @returns pairs of path under `datasets/sample-fleet/` and text. */
export function fleetFiles(options: FleetOptions = defaultFleet): readonly (readonly [string, string])[] {
  const fleet = simulateFleet(options);
  const { sheets, mappings, words, planted } = writeSheets(fleet);
  const truth = {
    note: "INVENTED. S(t) = exp(-multiplier (t / scale)^shape), t in hours on the mode's clock; see generator/truth.ts.",
    options,
    modes: modeTruths,
    effects: effectTruths,
    practice: practiceTruths,
    toolFactors: fleet.toolFactors,
  };
  const dataPackage = {
    profile: "data-package",
    name: "sample-fleet",
    title: "INVENTED sample fleet of a downhole tool shop",
    description:
      "Simulated by datasets/sample-fleet/generator. Shop, tools, customers, wells and people do not exist. The faults of record keeping are planted on purpose and listed in planted.json.",
    version: "1",
    licenses: [
      {
        name: "CC0-1.0",
        title: "Creative Commons Zero 1.0",
        path: "https://creativecommons.org/publicdomain/zero/1.0/",
      },
    ],
    sources: [{ title: "Simulation, seeded; no real record" }],
    resources: sheets.map((sheet) => ({
      name: sheet.file
        .replace(/\.csv$/, "")
        .toLowerCase()
        .replaceAll("_", "-"),
      title: sheet.title,
      path: `sheets/${sheet.file}`,
      format: "csv",
      mediatype: "text/csv",
      encoding: "utf-8",
      dialect: {
        delimiter: sheet.format.delimiter,
        ...(sheet.format.comment === null ? {} : { commentChar: sheet.format.comment }),
        header: true,
      },
      titleLines: sheet.format.skipLines,
      lines: sheet.text.split("\n").length - 1,
      schema: {
        fields: sheet.headers.map(({ name, description, unit }) => ({
          name,
          type: "string",
          description,
          ...(unit ? { unit } : {}),
        })),
      },
    })),
  };
  return [
    ...sheets.map((sheet): readonly [string, string] => [`sheets/${sheet.file}`, sheet.text]),
    ...mappings.map(({ file, mapping }): readonly [string, string] => [`mappings/${file}`, json(mapping)]),
    ["words.json", json(words)],
    ["planted.json", jsonLines(planted)],
    ["truth.json", json(truth)],
    ["datapackage.json", json(dataPackage)],
  ];
}
