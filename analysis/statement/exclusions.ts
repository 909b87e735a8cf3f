import type { Excluded, Life, NoInformation } from "../lives/types.ts";
import { keyOf } from "../records/descriptor.ts";
import { runsOfScope } from "../study/countedRuns.ts";
import { begunWith, betweenDates, inScope } from "../study/shopData.ts";
import type { ScopedData } from "./scopedData.ts";
import type { Account, StatementExclusions } from "./types.ts";

/** Every run row and every restoration of the scope in exactly one place, with why. */
export function exclusionsOf({ data, study, runs }: ScopedData): StatementExclusions {
  const { scope } = study;
  const { cutoff } = data.derived;
  const rows = runsOfScope(data, scope);
  const counted = new Set(runs.map(({ run }) => run));
  const withoutBuild = new Set(
    data.derived.notices
      .filter(({ code }) => code === "run-without-build")
      .flatMap(({ rows: at }) => at.map(({ key }) => key)),
  );
  const stateOf = (run: (typeof rows)[number]): string => {
    if (counted.has(run))
      return withoutBuild.has(keyOf("runs", run))
        ? "counted for the tool, no build on record for its items"
        : "counted";
    if (run.out_on > cutoff || run.in_on == null || run.in_on > cutoff) return "not back by the cut-off";
    return "the same run written twice";
  };
  const wanted = { ...scope, from: null, to: null };
  const restored = (row: Life | NoInformation | Excluded): boolean =>
    inScope(wanted, row) &&
    betweenDates(null, scope.to, row.sinceOn) &&
    begunWith(
      data,
      scope.customer,
      row.rows.filter(({ table }) => table === "runs").map((at) => ({ row: at })),
    );
  const { lives, noInformationYet, excluded } = data.derived;
  return {
    runs: account(rows.map(stateOf)),
    lives: account([
      ...lives.filter(restored).map(() => "followed"),
      ...noInformationYet.filter(restored).map(({ reason }) => reason),
      ...excluded.filter(restored).map(({ reason }) => reason),
    ]),
    hoursNotWritten: runs.filter(({ run }) => run.hours == null || (run.hours === 0 && runsLong(run))).length,
    reasonNotWritten: runs.filter(({ run }) => run.pulled_because === "not known").length,
  };

  function runsLong(run: (typeof rows)[number]): boolean {
    return run.in_on != null && Date.parse(run.in_on) - Date.parse(run.out_on) >= 2 * 86_400_000;
  }
}

function account(states: readonly string[]): Account {
  const counts = new Map<string, number>();
  for (const state of states) counts.set(state, (counts.get(state) ?? 0) + 1);
  return {
    whole: states.length,
    parts: [...counts]
      .map(([what, count]) => ({ what, count }))
      .sort((a, b) => b.count - a.count || (a.what < b.what ? -1 : 1)),
  };
}
