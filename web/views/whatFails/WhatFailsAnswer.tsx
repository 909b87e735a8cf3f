import { useState } from "preact/hooks";
import type { ModeRate, Scope, WhatFailsResult } from "../../../analysis/index.ts";
import { type Picked, pickedLives, pickedRows } from "../../state/evidence.ts";
import { move, place } from "../../state/navigation.ts";
import { type NoticePlace, noticesAt } from "../../state/placeNotices.ts";
import { Answer } from "../parts/Answer.tsx";
import { Cautions } from "../parts/Cautions.tsx";
import { Link } from "../parts/Link.tsx";
import type { Mark } from "../parts/marks.ts";
import { Notices } from "../parts/Notices.tsx";
import { RowsBehind } from "../parts/RowsBehind.tsx";
import { Section } from "../parts/Section.tsx";
import { HoursTable } from "./HoursTable.tsx";
import { ModesTable } from "./ModesTable.tsx";
import { ToolEvents } from "./ToolEvents.tsx";
import { WhatFailsMethod } from "./WhatFailsMethod.tsx";
import { WhatFailsPictures } from "./WhatFailsPictures.tsx";

/** Modes ranked, drawn on the tool and over time, with the numbers, the method and the rows. */
export function WhatFailsAnswer({ result }: { readonly result: WhatFailsResult }) {
  const [picked, setPicked] = useState<Picked | null>(null);
  const { scope } = place.value;
  const severalTypes = new Set(result.drawing.map((tool) => tool.toolType)).size > 1;
  const showMode = (mode: ModeRate) =>
    setPicked(pickedLives(`${mode.item}, ${mode.mode}: ${mode.failures} failures`, mode.lifeIds));
  const at = (where: NoticePlace) => (
    <Notices notices={noticesAt(result.notices, where)} onRows={(title, rows) => setPicked(pickedRows(title, rows))} />
  );
  const narrow = (mark: Mark) => {
    if (mark.item !== null) move({ scope: narrowed(mark, mark.item, severalTypes) });
    else if (mark.lifeIds.length > 0) setPicked(pickedLives(mark.says, mark.lifeIds));
  };
  return (
    <>
      <Answer result={result}>
        {scope.item !== null && scope.mode !== null ? (
          <Link to={{ view: "item-life" }} class="button">
            How long does it last?
          </Link>
        ) : null}
        {scope.item === null ? null : <Link to={{ scope: { item: null, mode: null } }}>Back to all items</Link>}
      </Answer>
      <div class="card">
        <Section name="Picture">
          <WhatFailsPictures result={result} onPick={narrow} />
        </Section>
        <Section name="Numbers">
          <ModesTable result={result} onRows={showMode} />
          {at("readings")}
          {at("counts")}
          <div class="side-by-side">
            <div class="stack">
              <HoursTable result={result} />
              {at("missing hours")}
              {at("records")}
            </div>
            <ToolEvents result={result} onRows={(title, row) => setPicked(pickedRows(title, [row]))} />
          </div>
        </Section>
        <Section name="Method">
          <WhatFailsMethod result={result} />
        </Section>
        <Section name="Rows">
          <RowsBehind
            picked={picked}
            study={result.provenance.studyHash}
            hint="Choose “Show rows” beside a mode to see the rows of your sheets behind its failures."
          />
        </Section>
      </div>
      <Cautions kinds={["life", "dispatch"]} />
    </>
  );
}

/** The scope that a mark stands for: an item of one name may sit in several tool types, so the type goes with it. */
function narrowed({ toolType, mode }: Mark, item: string, severalTypes: boolean): Partial<Scope> {
  return { item, ...(severalTypes && toolType !== null ? { toolType } : {}), ...(mode === null ? {} : { mode }) };
}
