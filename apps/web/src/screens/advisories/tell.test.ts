import { decideAdvisory } from "@ledgerboard/contracts/advisories";
import { describe, expect, it } from "vitest";
import { type DecisionValues, decisionBody, decisionFaults, decisionWords } from "./tell.ts";

const VALUES: DecisionValues = {
  decision: "undecided",
  alternate: "Closer balusters",
  name: " Ida Marsh ",
  on: "2026-11-20",
  how: "signed note",
};

describe("a decision on an advisory", () => {
  it.each(["undecided", "alternate", "in_scope", "declined"] as const)(
    "%s is sent as the service takes it",
    (decision) => {
      const body = decisionBody({ ...VALUES, decision });
      expect(decideAdvisory.body?.safeParse(body).success).toBe(true);
      expect(decisionFaults({ ...VALUES, decision })).toEqual({});
    },
  );

  it("asks for what is missing of it, and for nothing else", () => {
    const empty = { alternate: "", name: "", on: "", how: "" };
    expect(decisionFaults({ ...empty, decision: "in_scope" })).toEqual({});
    expect(Object.keys(decisionFaults({ ...empty, decision: "alternate" }))).toEqual(["alternate"]);
    expect(Object.keys(decisionFaults({ ...empty, decision: "declined" }))).toEqual(["name", "on", "how"]);
  });

  it("is told in words", () => {
    expect(decisionWords({ decision: "undecided", alternate: null, declined: null })).toBe(
      "Not decided yet.",
    );
    expect(
      decisionWords({
        decision: "declined",
        alternate: null,
        declined: { name: "Ida Marsh", on: "2026-11-20", how: "signed note" },
      }),
    ).toBe("Declined in writing by Ida Marsh on 20 November 2026: signed note.");
    expect(decisionWords({ decision: "alternate", alternate: "Gate", declined: null })).toContain("“Gate”");
  });
});
