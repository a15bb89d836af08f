import { expect, test } from "vitest";
import { titleOf } from "./title.ts";

test.each([
  ["Main stair moves. It has for years.", "Main stair moves"],
  ["  rail is loose\nand the gate", "rail is loose"],
  ["", ""],
  [
    "the porch floor near the front door is soft, and last night somebody went through it",
    "the porch floor near the front door is soft, and last night",
  ],
  ["a".repeat(80), "a".repeat(60)],
])("%j becomes %j", (words, title) => {
  expect(titleOf(words)).toBe(title);
});
