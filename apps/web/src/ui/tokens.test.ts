import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

// Contrast as WCAG 2.2 defines it (https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio): 4.5:1 for text
// (1.4.3), 3:1 for the outlines and marks that carry meaning (1.4.11).
const css = readFileSync(new URL("./tokens.css", import.meta.url), "utf8");
const themes = ["light", "dark"] as const;
const token = (name: string, theme: (typeof themes)[number]): string => {
  const found = new RegExp(`--${name}: light-dark\\((#[0-9a-f]{6}), (#[0-9a-f]{6})\\)`).exec(css);
  const value = found?.[theme === "light" ? 1 : 2];
  if (!value) throw new Error(`tokens.css has no colour --${name}`);
  return value;
};
const luminance = (hex: string): number => {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const contrast = (a: string, b: string): number => {
  const [light = 0, dark = 0] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (light + 0.05) / (dark + 0.05);
};

const TEXT: [string, string][] = [
  ["ink", "ground"],
  ["ink", "sheet"],
  ["ink", "timber-fill"],
  ["ink", "slate-fill"],
  ["ink", "alarm-fill"],
  ["ink", "rule-soft"],
  ["quiet", "ground"],
  ["quiet", "sheet"],
  ["slate", "ground"],
  ["slate", "sheet"],
  ["alarm", "ground"],
  ["alarm", "sheet"],
  ["timber", "ground"],
  ["on-timber", "timber"],
  ["on-alarm", "alarm"],
];
const MARKS: [string, string][] = [
  ["edge", "ground"],
  ["edge", "sheet"],
  ["timber", "sheet"],
  ["slate", "slate-fill"],
  ["alarm", "alarm-fill"],
  ["slate", "timber-fill"],
];

describe.each(themes)("colours, %s", (theme) => {
  it.each(TEXT)("%s can be read on %s", (text, ground) => {
    expect(contrast(token(text, theme), token(ground, theme))).toBeGreaterThanOrEqual(4.5);
  });
  it.each(MARKS)("%s can be told from %s", (mark, ground) => {
    expect(contrast(token(mark, theme), token(ground, theme))).toBeGreaterThanOrEqual(3);
  });
});
