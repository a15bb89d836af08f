import { useState } from "react";

export const THEMES = ["system", "light", "dark"] as const;
export type Theme = (typeof THEMES)[number];
const KEY = "theme";

function read(): Theme {
  const set = document.documentElement.dataset.theme;
  return set === "light" || set === "dark" ? set : "system";
}

/** Light, dark or as the system says; kept on this device. public/theme.js applies it before the first paint. */
export function useTheme(): [Theme, (theme: Theme) => void] {
  const [theme, setTheme] = useState(read);
  return [
    theme,
    (next) => {
      if (next === "system") delete document.documentElement.dataset.theme;
      else document.documentElement.dataset.theme = next;
      try {
        if (next === "system") localStorage.removeItem(KEY);
        else localStorage.setItem(KEY, next);
      } catch {
        // Storage is switched off: the choice lasts until the page is left.
      }
      setTheme(next);
    },
  ];
}
