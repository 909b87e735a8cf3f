/** Light or dark: the system's unless the reader chose; the choice stays in this browser. */
import { computed, effect, signal } from "@preact/signals";

export type ThemeName = "light" | "dark";
type Choice = ThemeName | "system";
const key = "afterrun.theme";

const systemIsDark = window.matchMedia("(prefers-color-scheme: dark)");
const system = signal<ThemeName>(systemIsDark.matches ? "dark" : "light");
const choice = signal<Choice>(remembered());

export const themeName = computed<ThemeName>(() => (choice.value === "system" ? system.value : choice.value));

/** Choosing what the system has anyway goes back to following the system. */
export function toggleTheme(): void {
  const next: ThemeName = themeName.value === "dark" ? "light" : "dark";
  choice.value = next === system.value ? "system" : next;
}

export function applyTheme(): void {
  systemIsDark.addEventListener("change", (event) => {
    system.value = event.matches ? "dark" : "light";
  });
  effect(() => {
    document.documentElement.dataset.theme = themeName.value;
    try {
      if (choice.value === "system") window.localStorage.removeItem(key);
      else window.localStorage.setItem(key, choice.value);
    } catch {
      // Storage is blocked here: the choice lasts for this visit.
    }
  });
}

function remembered(): Choice {
  try {
    const value = window.localStorage.getItem(key);
    return value === "light" || value === "dark" ? value : "system";
  } catch {
    return "system";
  }
}
