/** Who answers: initials, asked once and kept in this browser. One to twelve letters. */
import { signal } from "@preact/signals";

const key = "afterrun.initials";

export const initials = signal<string>(remembered());

/** A declaration, so that it is there when the line above runs. */
export function areInitials(text: string): boolean {
  return /^[\p{L}.]{1,12}$/u.test(text.trim());
}

export function rememberInitials(text: string): void {
  initials.value = text.trim();
  try {
    window.localStorage.setItem(key, initials.value);
  } catch {
    // Storage is blocked here: the initials last for this visit.
  }
}

function remembered(): string {
  try {
    const text = window.localStorage.getItem(key) ?? "";
    return areInitials(text) ? text : "";
  } catch {
    return "";
  }
}
