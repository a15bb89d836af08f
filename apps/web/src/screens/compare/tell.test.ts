import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { describe, expect, it } from "vitest";
import { scopeLine } from "../estimate/line.fixture.ts";
import { type Change, lineWords, stepNote } from "./tell.ts";

const allowance = {
  chanceBp: 4000,
  lowQuantity: "2",
  highQuantity: "16",
  capQuantity: "16",
  charge: "if_found" as const,
};
const change = (kind: Change["kind"], before: Partial<ScopeLine>, after: Partial<ScopeLine>): Change => ({
  kind,
  before: scopeLine(before),
  after: scopeLine(after),
  delta: { cents: 100, currency: "USD" },
  deltaHours: "0",
  structural: true,
});

describe("a line in words", () => {
  it("says who does it, whether it is an extra, and what is known of concealed work", () => {
    expect(lineWords(scopeLine({ action: "sister", quantity: "6" }))).toBe("sister 6");
    expect(lineWords(scopeLine({ unit: "lf", by: "owner", alternate: "Caps" }))).toBe(
      "replace 26 ft by owner, extra: Caps",
    );
    expect(lineWords(scopeLine({ unit: "lf", quantity: "4", allowance }))).toBe(
      "replace 4 ft, 40% chance of 2 to 16 ft, only if found, at most 16",
    );
  });
});

describe("the note below a step", () => {
  it("names in what the work is another", () => {
    const note = (before: Partial<ScopeLine>, after: Partial<ScopeLine>) =>
      stepNote("action", [change("action", before, after)]);
    expect(note({ action: "replace" }, { action: "sister" })).toBe("joist: replace→sister");
    expect(note({ by: "owner" }, { by: "us" })).toBe("joist: by owner→by us");
    expect(note({}, { alternate: "Caps" })).toBe("joist: now an extra");
    expect(note({ assemblyCode: "A" }, { assemblyCode: "B" })).toBe("joist: other assembly");
  });
  it("names the component of a moved allowance, and nothing for what belongs to no line", () => {
    const moved = [change("allowance", { allowance }, { allowance: { ...allowance, chanceBp: 100 } })];
    expect(stepNote("allowance", moved)).toBe("joist");
    expect(stepNote("whole_job", moved)).toBe("");
    expect(stepNote("overhead_and_tax", moved)).toBe("");
  });
});
