// Before the first paint: the theme somebody chose on this device, else what the system says.
try {
  const theme = localStorage.getItem("theme");
  if (theme === "light" || theme === "dark") document.documentElement.dataset.theme = theme;
} catch {
  // Storage is switched off: the system's theme applies.
}
