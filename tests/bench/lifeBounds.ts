/**
 * How long every mode of the whole sample fleet takes, with the usual bounds and by serial with 2,000 resamples:
 * `npx tsx tests/bench/lifeBounds.ts`. Prints milliseconds of processor time, which a busy machine does not change; asserts nothing.
 */
import { defaultStudy, runStudy, type StudyDefinition } from "../../analysis/index.ts";
import { deriveLives } from "../../analysis/lives/deriveLives.ts";
import { defaultFleet } from "../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";

const { recorded } = simulateFleet(defaultFleet);
const context = { dataHash: "bench", statements: [], sample: true };
const { lives } = deriveLives(recorded, { cutoff: null });
const pairs = [...new Set(lives.map(({ item, mode }) => JSON.stringify([item, mode])))];
// Derived once before the first question, as by a worker of the server.
runStudy(defaultStudy("what fails"), recorded, context);

function ask(definition: StudyDefinition): { readonly ms: number; readonly method: string } {
  const before = process.cpuUsage();
  const result = runStudy(definition, recorded, context);
  const { user, system } = process.cpuUsage(before);
  return { ms: (user + system) / 1000, method: result.kind === "item life" ? result.bounds.method : "" };
}

let [usual, bySerial] = [0, 0];
for (const pair of pairs) {
  const [item = "", mode = ""] = JSON.parse(pair) as string[];
  const definition = defaultStudy("item life", { item, mode });
  const first = ask(definition);
  const again = ask({ ...definition, bounds: "by serial" });
  usual += first.ms;
  bySerial += again.ms;
  console.log(
    `${`${item}, ${mode}`.padEnd(30)} usual ${first.ms.toFixed(0).padStart(6)} ms (${first.method}), by serial ${again.ms.toFixed(0).padStart(6)} ms (${again.method})`,
  );
}
console.log(
  `all ${pairs.length} modes: usual ${(usual / 1000).toFixed(1)} s, by serial ${(bySerial / 1000).toFixed(1)} s`,
);
