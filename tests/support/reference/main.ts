/**
 * Compares the engine with files of reference cases: `npm run --silent reference -- FILE...`
 * One line a topic; then what is outside and what is not covered. Exit 1 if anything is outside or of an unknown kind.
 */
import { readReferenceFile } from "./readReferenceFile.ts";
import { runCases } from "./runCases.ts";

const SHOWN = 20;

function main(paths: readonly string[]): number {
  if (paths.length === 0) {
    console.error("Name at least one file of reference cases: npm run --silent reference -- FILE...");
    return 2;
  }
  let failed = false;
  for (const path of paths) {
    let outcome: ReturnType<typeof runCases>;
    try {
      outcome = runCases(readReferenceFile(path));
    } catch (error) {
      console.error(error instanceof Error ? error.message : String(error));
      failed = true;
      continue;
    }
    const missing = [...outcome.notCovered.values()].reduce((sum, count) => sum + count, 0);
    const doubted = [...outcome.disputed.values()].reduce((sum, count) => sum + count, 0);
    console.log(
      `${outcome.topic}: ${outcome.cases} cases, ${outcome.compared} values compared, ` +
        `${outcome.outside.length} outside tolerance, ${missing} not covered, ` +
        (doubted > 0 ? `${doubted} disputed, ` : "") +
        `worst relative difference ${outcome.worstRelativeDifference.toExponential(1)}`,
    );
    for (const { at, computed, expected, relativeDifference } of outcome.outside.slice(0, SHOWN)) {
      const relative =
        relativeDifference === null ? "" : `, relative difference ${relativeDifference.toExponential(1)}`;
      console.log(
        `  outside: ${at}: computed ${JSON.stringify(computed)}, expected ${JSON.stringify(expected)}${relative}`,
      );
    }
    if (outcome.outside.length > SHOWN) console.log(`  and ${outcome.outside.length - SHOWN} more outside`);
    for (const [because, count] of outcome.disputed) console.log(`  disputed: ${count} values: ${because}`);
    for (const [what, count] of outcome.notCovered) console.log(`  not covered: ${what}: ${count} values`);
    for (const kind of outcome.unknownKinds) console.log(`  unknown kind: ${kind}`);
    if (outcome.outside.length > 0 || outcome.unknownKinds.length > 0) failed = true;
  }
  return failed ? 1 : 0;
}

process.exitCode = main(process.argv.slice(2));
