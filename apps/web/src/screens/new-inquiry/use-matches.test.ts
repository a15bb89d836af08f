import { expect, test } from "vitest";
import { terms } from "./use-matches.ts";

const nobody = { name: "", phone: "", email: "" };

test("searches once there is enough to go by", () => {
  expect(terms(nobody)).toEqual([]);
  expect(terms({ ...nobody, phone: "410" })).toEqual([]);
  expect(terms({ name: "Ot", phone: "0117", email: "" })).toEqual(["0117"]);
  expect(terms({ name: "Otto", phone: "+1 (410) 555-0117", email: "ot" })).toEqual(["4105550117", "Otto"]);
});
