import { describe, expect, test } from "vitest";
import { assessPlausibility, PLAUSIBILITY_RULES } from "./assess.ts";
import { COMPANION_CASES } from "./cases/companions.fixture.ts";
import { GEOMETRY_CASES } from "./cases/geometry.fixture.ts";
import { MATERIAL_CASES } from "./cases/materials.fixture.ts";
import { MONEY_CASES } from "./cases/money.fixture.ts";
import { QUANTITY_CASES } from "./cases/quantities.fixture.ts";
import { job, SOUND } from "./job.fixture.ts";

const CASES = [...QUANTITY_CASES, ...COMPANION_CASES, ...GEOMETRY_CASES, ...MATERIAL_CASES, ...MONEY_CASES];
const of = (rule: string, findings: ReturnType<typeof assessPlausibility>) =>
  findings.filter(({ ruleId }) => ruleId === rule);

describe("each rule speaks up and lets pass", () => {
  test.each(CASES.map((one) => [one.rule, String(one.says), one] as const))("%s: %s", (rule, _, one) => {
    const fired = of(rule, assessPlausibility(one.fires));
    expect(fired).toHaveLength(1);
    const [finding] = fired;
    const known = PLAUSIBILITY_RULES.find(({ id }) => id === rule);
    expect(finding?.words).toMatch(one.says);
    expect(finding?.severity).toBe(one.severity ?? known?.severity);
    expect(finding?.field).toBe(one.field);
    expect(Object.keys(finding?.numbers ?? {}).length).toBeGreaterThan(0);
    expect(of(rule, assessPlausibility(one.silent))).toEqual([]);
  });
});

test("the same of several runs of a guard is said once, with how often", () => {
  const one = GEOMETRY_CASES.find(({ rule }) => rule === "guard_low")?.fires;
  if (!one) throw new Error("There is no case of a low guard.");
  const twice = {
    ...one,
    zones: one.zones.map((zone) => ({
      ...zone,
      geometry: zone.geometry && {
        ...zone.geometry,
        guards: [...zone.geometry.guards, ...zone.geometry.guards],
      },
    })),
  };
  const [single] = of("guard_low", assessPlausibility(one));
  const merged = of("guard_low", assessPlausibility(twice));
  expect(merged).toHaveLength(1);
  expect(merged[0]?.words).toBe(`${single?.words} In 2 places.`);
  expect(merged[0]?.key).not.toBe(single?.key);
});

describe("the list of rules", () => {
  test("has at least twenty-five, each with its own id, a title and a source", () => {
    expect(PLAUSIBILITY_RULES.length).toBeGreaterThanOrEqual(25);
    expect(new Set(PLAUSIBILITY_RULES.map(({ id }) => id)).size).toBe(PLAUSIBILITY_RULES.length);
    for (const { id, title, severity, source } of PLAUSIBILITY_RULES) {
      expect(id).toMatch(/^[a-z_]+$/);
      expect(title.length, id).toBeGreaterThan(10);
      expect(["blocking", "warning", "note"], id).toContain(severity);
      expect(source, id).toMatch(
        /^(Common practice, no source$|Arithmetic|Geometry|IRC|AWC|DCA|29 CFR|40 CFR|CPSC|Southern|Article|Fastener|Deck evaluation|The company)/,
      );
    }
  });

  test("is tested rule by rule", () => {
    expect([...new Set(CASES.map(({ rule }) => rule))].sort()).toEqual(
      PLAUSIBILITY_RULES.map(({ id }) => id).sort(),
    );
  });

  test("stops nothing on matters of safety: there local code decides", () => {
    const blocking = PLAUSIBILITY_RULES.filter(({ severity }) => severity === "blocking").map(({ id }) => id);
    expect(blocking.sort()).toEqual([
      "allowance_bounds",
      "geometry_fault",
      "line_without_rates",
      "material_without_price",
      "more_replaced_than_exists",
      "unit_not_for_component",
      "unit_not_of_assembly",
    ]);
  });
});

describe("findings", () => {
  test("there are none on a sound job, nor on an empty one", () => {
    expect(assessPlausibility(job(SOUND))).toEqual([]);
    expect(assessPlausibility(job([], { zones: [] }))).toEqual([]);
  });

  test("come by severity, and each names its place", () => {
    const findings = assessPlausibility(
      job([
        ...SOUND,
        { ...SOUND[0], quantity: "500", rates: null } as (typeof SOUND)[number],
        { ...SOUND[0], zoneId: "gone" } as (typeof SOUND)[number],
      ]),
    );
    const order = findings.map(({ severity }) => ["blocking", "warning", "note"].indexOf(severity));
    expect(order).toEqual(order.toSorted((a, b) => a - b));
    expect(findings.map(({ ruleId }) => ruleId)).toContain("more_replaced_than_exists");
    for (const { zoneId, words } of findings) {
      expect(["deck", "stair", "gone", null]).toContain(zoneId);
      expect(words).toMatch(/[.?]$/);
    }
  });

  test("a reason given for one set of numbers does not pass another", () => {
    const keys = (quantity: string) =>
      of(
        "more_replaced_than_exists",
        assessPlausibility(job([{ ...SOUND[1], quantity } as (typeof SOUND)[number]])),
      ).map(({ key }) => key);
    expect(keys("14")).toEqual(keys("14.0"));
    expect(keys("14")).toHaveLength(1);
    expect(keys("14")).not.toEqual(keys("15"));
  });
});
