import { useCallback, useState } from "preact/hooks";
import { place } from "../../state/navigation.ts";
import { shopState } from "../../state/shopState.ts";
import { themeName, toggleTheme } from "../../state/theme.ts";
import { Link } from "../parts/Link.tsx";
import { useEscape } from "../parts/useEscape.ts";
import { questions } from "./questions.ts";

const Mark = () => (
  <svg width="26" height="16" viewBox="0 0 26 16" aria-hidden="true">
    <path d="M1.5 2v12M1.5 8h14" stroke="currentColor" stroke-width="2.5" fill="none" />
    <circle cx="19" cy="8" r="5.5" fill="currentColor" />
  </svg>
);

/** The list of questions; folds behind one button where the page is narrow. */
export function Side() {
  const [open, setOpen] = useState(false);
  const { view } = place.value;
  const known = shopState.value.known;
  const shown = view === "drop" || view === "audit" ? "records" : view;
  const dark = themeName.value === "dark";
  const close = useCallback(() => setOpen(false), []);
  useEscape(open, close);
  return (
    <header class="side" data-open={open}>
      <div class="side-head">
        <Link to={{ view: "what-fails" }} class="brand" onGo={close}>
          <Mark />
          Afterrun
        </Link>
        <button
          type="button"
          class="fold"
          aria-expanded={open}
          aria-controls="questions"
          onClick={() => setOpen(!open)}
        >
          Questions
        </button>
      </div>
      <nav class="questions" id="questions" aria-label="Questions">
        <ul>
          {questions.map(({ view: target, name, asks }) => (
            <li key={target}>
              <Link to={{ view: target }} current={target === shown} onGo={close}>
                <strong>{name}</strong>
                <span>{asks}</span>
              </Link>
            </li>
          ))}
        </ul>
      </nav>
      <div class="side-foot">
        {known?.sample === true ? <p>Sample fleet: an invented shop with invented tools.</p> : null}
        <button type="button" onClick={toggleTheme}>
          {dark ? "Light page" : "Dark page"}
        </button>
      </div>
    </header>
  );
}
