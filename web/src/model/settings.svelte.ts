// What this browser remembers of how the page is to look.
import { asked, type Unit } from "../api/unit.svelte";

type Light = "light" | "dark" | "system";

function read(name: string): string | null {
  try {
    return localStorage.getItem(`kerfwright.${name}`);
  } catch {
    return null;
  }
}

function write(name: string, value: string): void {
  try {
    localStorage.setItem(`kerfwright.${name}`, value);
  } catch {
    // A browser that keeps nothing still works; it only forgets.
  }
}

const darkOutside = matchMedia("(prefers-color-scheme: dark)");
const stored = read("light");

const unit = read("unit");
asked.unit = unit === "in" || unit === "mm" ? unit : null;

export function rememberUnit(next: Unit): void {
  asked.unit = next;
  write("unit", next);
}

export const settings = $state({
  light: (stored === "light" || stored === "dark" ? stored : "system") as Light,
  isDark: false,
});

export function applyLight(): void {
  settings.isDark = settings.light === "dark" || (settings.light === "system" && darkOutside.matches);
  document.documentElement.dataset["light"] = settings.isDark ? "dark" : "light";
}

darkOutside.addEventListener("change", applyLight);

export function switchLight(): void {
  settings.light = settings.isDark ? "light" : "dark";
  write("light", settings.light);
  applyLight();
}
