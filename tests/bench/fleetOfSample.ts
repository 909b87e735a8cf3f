import { RESAMPLES } from "../../analysis/study/chooseBounds.ts";
import { defaultStudy } from "../../analysis/study/definition.ts";
import { runStudy } from "../../analysis/study/runStudy.ts";
import { shopData } from "../../analysis/study/shopData.ts";
import { defaultFleet } from "../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";

/** The sample fleet through derivation and item life with bounds by serial, every item and mode once. */
export function fleetOfSample(): string[] {
  const { recorded } = simulateFleet(defaultFleet);
  const seconds = clock();
  const derived = shopData(recorded, defaultStudy("item life")).derived.lives;
  const derivation = seconds();
  const modes = new Map(
    derived.map(({ toolType, item, mode }) => [`${toolType}, ${item}, ${mode}`, { toolType, item, mode }]),
  );
  const context = { dataHash: "bench", statements: [], sample: true };
  const taken = [...modes].map(([name, scope]) => {
    const one = clock();
    const result = runStudy({ ...defaultStudy("item life", scope), bounds: "by serial" }, recorded, context);
    if (result.kind !== "item life") throw new Error(result.kind);
    return { name, seconds: one(), method: result.bounds.method, failures: result.counts.failures };
  });
  const total = taken.reduce((sum, one) => sum + one.seconds, 0);
  const resampled = taken.filter(({ method }) => method === "by serial");
  const longest = [...taken].sort((a, b) => b.seconds - a.seconds).slice(0, 5);
  return [
    `${derived.length} lives of ${modes.size} items and modes. Derivation ${derivation.toFixed(1)} s; every mode with its bounds ` +
      `by serial (${RESAMPLES.toLocaleString("en")} resamples, ${resampled.length} modes; the others are linked, or say why not) ` +
      `${total.toFixed(1)} s of processor time, ${(total / 2).toFixed(1)} s on two cores. Aim: under 20 s.`,
    "",
    "| longest | s | bounds | failures |",
    "|---|---|---|---|",
    ...longest.map(
      ({ name, seconds: s, method, failures }) => `| ${name} | ${s.toFixed(2)} | ${method} | ${failures} |`,
    ),
  ];
}

/** Processor seconds since it was made. */
function clock(): () => number {
  const before = process.cpuUsage();
  return () => {
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1e6;
  };
}
