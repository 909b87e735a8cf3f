/** Where the page is: one signal that follows the address bar both ways. */
import { signal } from "@preact/signals";
import type { DecisionSettings, PracticeChoice, Scope, SettlingGoal } from "../../analysis/index.ts";
import { type DoubtKind, type Place, readAddress, type Settings, writeAddress } from "./place.ts";

const read = () => readAddress(window.location.pathname, window.location.search);
export const place = signal<Place>(read());

export function followBackAndForward(): void {
  window.addEventListener("popstate", () => {
    place.value = read();
  });
}

/** Goes to a place. A change worth going back to makes a new entry; `replace` corrects the present one. */
export function goTo(next: Place, { replace = false } = {}): void {
  const address = writeAddress(next);
  const present = `${window.location.pathname}${window.location.search}`;
  if (address !== present) {
    if (replace) window.history.replaceState(null, "", address);
    else window.history.pushState(null, "", address);
  }
  const { view, serial, form, doubt } = place.value;
  const changesView =
    next.view !== view || next.serial !== serial || next.form !== form || next.doubt?.rule !== doubt?.rule;
  place.value = next;
  if (changesView) window.scrollTo(0, 0);
}

/** The present place with some parts changed. */
export interface Change {
  readonly view?: Place["view"];
  readonly scope?: Partial<Scope>;
  readonly settings?: Partial<Settings>;
  readonly serial?: string | null;
  readonly drop?: string | null;
  /** Left out: the form that is open stays, unless another view or serial is gone to. */
  readonly form?: string | null;
  readonly decision?: DecisionSettings;
  readonly doubt?: DoubtKind | null;
  /** Left out: stays within the view. */
  readonly closely?: PracticeChoice | null;
  /** Left out: stays with the comparison it was asked of. */
  readonly settle?: SettlingGoal | null;
  readonly figures?: Readonly<Record<string, string>>;
}

export function changed(from: Place, change: Change): Place {
  const decision = change.decision ?? from.decision;
  return {
    ...(decision === undefined ? {} : { decision }),
    view: change.view ?? from.view,
    scope: { ...from.scope, ...change.scope },
    settings: { ...from.settings, ...change.settings },
    serial: change.serial === undefined ? from.serial : change.serial,
    drop: change.drop === undefined ? from.drop : change.drop,
    form: change.form === undefined ? (staysAt(from, change) ? from.form : null) : change.form,
    doubt: change.doubt === undefined ? (staysAt(from, change) ? from.doubt : null) : change.doubt,
    closely: change.closely === undefined ? (staysAt(from, change) ? from.closely : null) : change.closely,
    settle:
      change.settle === undefined
        ? staysAt(from, change) && change.closely === undefined
          ? from.settle
          : null
        : change.settle,
    figures: change.figures ?? (staysAt(from, change) ? from.figures : {}),
  };
}

const staysAt = (from: Place, { view = from.view, serial = from.serial }: Change): boolean =>
  view === from.view && serial === from.serial;

export const move = (change: Change): void => goTo(changed(place.value, change));
