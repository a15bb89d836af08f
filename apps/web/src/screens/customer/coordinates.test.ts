import { expect, test } from "vitest";
import { editCoordinates, parseCoordinates } from "./coordinates.ts";

test.each([
  ["38.9784, -76.4922", { latitude: 38.9784, longitude: -76.4922 }],
  ["38.9784 −76.4922", { latitude: 38.9784, longitude: -76.4922 }],
  ["  ", { latitude: null, longitude: null }],
  ["90;180", { latitude: 90, longitude: 180 }],
])("%j is %j", (text, place) => {
  expect(parseCoordinates(text)).toEqual(place);
});

test.each(["38.9784", "91, 0", "0, 181", "north, west", "1, 2, 3"])("%j is no place", (text) => {
  expect(parseCoordinates(text)).toBeNull();
});

test("what is shown to edit reads back the same", () => {
  const place = { latitude: 38.97841, longitude: -76.4922 };
  expect(parseCoordinates(editCoordinates(place))).toEqual(place);
  expect(editCoordinates({ latitude: null, longitude: null })).toBe("");
});
