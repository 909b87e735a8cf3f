import { useEffect, useRef } from "preact/hooks";
import { place } from "../../state/navigation.ts";
import type { ViewName } from "../../state/place.ts";
import { loadShopState, shopState } from "../../state/shopState.ts";
import { ItemLifeView } from "../itemLife/ItemLifeView.tsx";
import { Link } from "../parts/Link.tsx";
import { Empty, Failure, Waiting } from "../parts/States.tsx";
import { ToolHistoryView } from "../toolHistory/ToolHistoryView.tsx";
import { WhatFailsView } from "../whatFails/WhatFailsView.tsx";
import { lazyView } from "./lazyView.tsx";
import { questions } from "./questions.ts";
import { ScopeBar } from "./ScopeBar.tsx";
import { Side } from "./Side.tsx";

const AuditView = lazyView(() => import("../audit/AuditView.tsx").then((part) => part.AuditView));
const FleetView = lazyView(() => import("../fleet/FleetView.tsx").then((part) => part.FleetView));
const IntervalView = lazyView(() => import("../interval/IntervalView.tsx").then((part) => part.IntervalView));
const PracticeView = lazyView(() => import("../practice/PracticeView.tsx").then((part) => part.PracticeView));
const DropView = lazyView(() => import("../records/DropView.tsx").then((part) => part.DropView));
const RecordsView = lazyView(() => import("../records/RecordsView.tsx").then((part) => part.RecordsView));
const StatementView = lazyView(() => import("../statement/StatementView.tsx").then((part) => part.StatementView));

/** The whole page: questions at the side, scope on top, one view under it. */
export function Page() {
  const { view, serial } = place.value;
  const main = useRef<HTMLElement>(null);
  const arrived = useRef(false);
  const name = underRecords[view] ?? questions.find((question) => question.view === view)?.name ?? "";

  useEffect(() => {
    void loadShopState();
  }, []);
  useEffect(() => {
    document.title = `${serial === null ? name : `${serial}, ${name}`} · Afterrun`;
    if (arrived.current) main.current?.focus({ preventScroll: true });
    arrived.current = true;
  }, [view, serial]);

  return (
    <div class="shell">
      <a class="skip" href="#view">
        Skip to the answer
      </a>
      <Side />
      <main id="view" ref={main} tabIndex={-1}>
        <ScopeBar />
        <h1 class="unseen">{name}</h1>
        <View />
      </main>
    </div>
  );
}

const underRecords: Partial<Record<ViewName, string>> = { drop: "New sheets", audit: "In doubt" };

function View() {
  const { view } = place.value;
  const { known, failure, slow } = shopState.value;
  if (known === null && failure !== null)
    return <Failure title="The records cannot be reached" failure={failure} again={() => void loadShopState()} />;
  if (known === null) return <Waiting slow={slow}>Opening the records…</Waiting>;
  if (view === "drop") return <DropView />;
  if (view === "records") return <RecordsView state={known} />;
  if (known.batches === 0)
    return (
      <Empty title="No sheets have been dropped in yet">
        <p>
          This page answers from the sheets your shop already keeps: builds and redresses, runs, teardowns. Drop them
          in, check how each column is read, and the first answer follows.
        </p>
        <Link to={{ view: "drop" }} class="button main">
          Drop in sheets
        </Link>
      </Empty>
    );
  if (known.openQuestions.length > 0)
    return (
      <Empty title="One thing your sheets do not say">
        <p>Nothing is counted until these are answered, because every life would rest on a guess:</p>
        <ul class="notices">
          {known.openQuestions.map((question) => (
            <li key={question}>{question}</li>
          ))}
        </ul>
        <Link to={{ view: "drop" }} class="button main">
          Answer in Records
        </Link>
      </Empty>
    );
  if (view === "audit") return <AuditView dataHash={known.dataHash} />;
  if (view === "item-life") return <ItemLifeView choices={known.choices} dataHash={known.dataHash} />;
  if (view === "fleet") return <FleetView dataHash={known.dataHash} />;
  if (view === "interval") return <IntervalView dataHash={known.dataHash} />;
  if (view === "tool-history") return <ToolHistoryView choices={known.choices} dataHash={known.dataHash} />;
  if (view === "statement") return <StatementView choices={known.choices} dataHash={known.dataHash} />;
  if (view === "practice") return <PracticeView dataHash={known.dataHash} />;
  return <WhatFailsView dataHash={known.dataHash} />;
}
