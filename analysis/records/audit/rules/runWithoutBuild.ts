import { ownLooks, type Rule } from "../auditContext.ts";
import { doubt, refOf } from "../doubt.ts";

/**
 * A run with no build behind it: the tool was taken apart and went out again with no redress written, or it has none at
 * all before. The build sheet is missing, so ages run on over what was renewed.
 *
 * One row for the first run of such a spell; `others` are the runs that follow it up to the next redress.
 *
 * Source       Common practice, no source.
 * Cannot tell  A tool that was opened, looked at and closed again with nothing renewed: write that as a redress. A build
 *              sheet lost with no run after it cannot be noticed.
 */
export const runWithoutBuild: Rule = (context) =>
  [...context.stories.values()].flatMap(({ serial, runs, looks, redresses }) => {
    const apart = ownLooks(context, looks);
    const spells = new Map<string, (typeof runs)[number][]>();
    for (const run of runs) {
      const built = redresses.filter(({ day }) => day <= run.outDay).at(-1);
      const opened = apart.filter(({ day }) => day <= run.outDay).at(-1);
      // On one date the teardown comes before the redress.
      if (built !== undefined && (opened === undefined || opened.day <= built.day)) continue;
      const spell = `${built?.redress.redress ?? ""} ${opened?.teardown.teardown ?? ""}`;
      const known = spells.get(spell);
      if (known) known.push(run);
      else spells.set(spell, [run]);
    }
    return [...spells.values()].flatMap(([first, ...rest]) => {
      if (first === undefined) return [];
      const opened = apart.filter(({ day }) => day <= first.outDay).at(-1);
      return [
        doubt("run without build", "runs", first.run, null, {
          others: [
            ...(opened ? [refOf("teardowns", opened.teardown)] : []),
            ...rest.map(({ run }) => refOf("runs", run)),
          ],
          facts: {
            run: first.run.run,
            serial,
            out_on: first.run.out_on,
            runs: rest.length + 1,
            teardown: opened?.teardown.teardown ?? null,
            opened_on: opened?.teardown.done_on ?? null,
          },
        }),
      ];
    });
  });
