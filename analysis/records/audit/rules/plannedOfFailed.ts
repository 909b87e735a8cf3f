import { ownLooks, type Rule } from "../auditContext.ts";
import { doubt, refOf } from "../doubt.ts";
import { failedFindings } from "../failedFindings.ts";
import { redressAfter } from "../redressAfter.ts";
import { runsBefore } from "../runsBefore.ts";

/**
 * A teardown or redress coded "planned" of a tool that had failed: an evident mode is found at or above its threshold
 * though no run reported it, or the run before was pulled because of a tool failure. Counted as planned, the failure
 * would pass for a tool taken in good time. The teardown is doubted where it says "planned", else the redress after it.
 *
 * Source       The condition at teardown overrides the reason code: common practice, no source.
 * Cannot tell  A hidden failure found at a planned teardown is what planned teardowns are for and is not doubted.
 */
export const plannedOfFailed: Rule = (context) =>
  [...context.stories.values()].flatMap((story) =>
    ownLooks(context, story.looks).flatMap((look) => {
      const { teardown } = look;
      const redress = redressAfter(story, look);
      const runs = runsBefore(context, story, look);
      // A second look at what the first found, or runs missing from the log: nothing new to say about the reason.
      if (runs.length === 0) return [];
      const reported = runs.find((run) => run.pulled_because === "tool failure");
      const found = reported
        ? []
        : failedFindings(context, teardown).filter(({ mode }) => mode.announces === "evident");
      const failed = found.length > 0 || reported !== undefined;
      const facts = {
        teardown: teardown.teardown,
        serial: story.serial,
        on: teardown.done_on,
        item: found[0]?.finding.item ?? reported?.item_seen ?? null,
        mode: found[0]?.finding.condition ?? reported?.mode_seen ?? null,
        run: reported?.run ?? null,
        redress: redress?.redress ?? null,
      };
      const others = [
        ...found.map(({ finding }) => refOf("findings", finding)),
        ...(reported ? [refOf("runs", reported)] : []),
      ];
      if (teardown.why === "planned") {
        if (!failed) return [];
        const after = redress ? [refOf("redresses", redress)] : [];
        const details = { others: [...others, ...after], facts };
        return [doubt("planned redress of a failed tool", "teardowns", teardown, "why", details)];
      }
      if (redress?.reason !== "planned" || (!failed && teardown.why !== "tool failure")) return [];
      const details = { others: [...others, refOf("teardowns", teardown)], facts };
      return [doubt("planned redress of a failed tool", "redresses", redress, "reason", details)];
    }),
  );
