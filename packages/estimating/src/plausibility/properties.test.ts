import { ZONE_KINDS } from "@ledgerboard/contracts/vocabulary";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { charges, line, terms } from "../pricing/arbitraries.fixture.ts";
import { priceRevision } from "../pricing/revision.ts";
import { takeoff } from "../takeoff/takeoff.ts";
import { anyGeometry } from "../takeoff/zones.fixture.ts";
import { assessPlausibility } from "./assess.ts";
import { deck, line as drafted, job, material, rates, SOUND, stair } from "./job.fixture.ts";
import type { PlausibilityJob } from "./job.ts";

const zone = (id: string) =>
  fc
    .record({ kind: fc.constantFrom(...ZONE_KINDS), geometry: fc.option(anyGeometry, { freq: 6 }) })
    .map((one) => ({
      id,
      name: `Zone ${id}`,
      ...one,
      takeoff: takeoff({ ...one, lengthFt: "16", widthFt: null, heightFt: null }),
    }));
const unit = fc.constantFrom("each" as const, "sqft" as const, null);
const scope = fc
  .integer({ min: 0, max: 12 })
  .chain((count) => fc.tuple(...Array.from({ length: count }, (_, i) => fc.tuple(line(`line-${i}`), unit))));
const past = fc.record({
  hoursPerUnit: fc.array(
    fc.record({
      component: fc.constantFrom("decking" as const, "joist" as const),
      action: fc.constantFrom("replace" as const, "sister" as const),
      unit: fc.constantFrom("each" as const, "sqft" as const),
      jobs: fc.nat(20),
      meanHours: fc.constantFrom("0", "0.12", "2.5"),
      sdHours: fc.constantFrom("0", "0.5"),
    }),
    { maxLength: 3 },
  ),
  pricePerSqft: fc.array(
    fc.record({
      zoneKind: fc.constantFrom(...ZONE_KINDS),
      jobs: fc.nat(20),
      p10Cents: fc.nat(500),
      p90Cents: fc.nat(90_000),
    }),
    { maxLength: 3 },
  ),
});

const anyJob: fc.Arbitrary<PlausibilityJob> = fc
  .record({
    property: fc.record({
      saltExposure: fc.boolean(),
      yearBuilt: fc.option(fc.integer({ min: 1700, max: 2026 })),
    }),
    zones: fc.oneof(fc.constant([]), fc.tuple(zone("z1")), fc.tuple(zone("z1"), zone("z2"))),
    lines: scope,
    charges,
    terms,
    past: fc.option(past),
    newLumberDaysDry: fc.option(fc.nat(400)),
  })
  .map(({ lines, terms: priceTerms, ...rest }) => ({
    ...rest,
    today: "2026-11-25",
    lines: priceRevision(
      {
        lines: lines.map(([one, assemblyUnit]) => ({
          ...one,
          assemblyUnit,
          description: "",
          alternate: one.alternate ?? null,
          allowance: one.allowance ?? null,
        })),
      },
      priceTerms,
    ).lines,
  }));

describe("any job that the schemas take", () => {
  test("is assessed without throwing, each finding once, with words, a source and a place that exists", () => {
    fc.assert(
      fc.property(anyJob, (one) => {
        const findings = assessPlausibility(one);
        expect(new Set(findings.map(({ key }) => key)).size).toBe(findings.length);
        const lines = new Set(one.lines.map(({ lineageId }) => lineageId));
        for (const { words, source, lineageId, numbers, key, ruleId } of findings) {
          expect(words).toMatch(/\S+ \S+/);
          expect(words).not.toMatch(/undefined|NaN|null|Infinity|\[object/);
          expect(source).not.toBe("");
          expect(key.startsWith(`${ruleId}|`)).toBe(true);
          if (lineageId !== null) expect(lines.has(lineageId)).toBe(true);
          for (const value of Object.values(numbers)) expect(value).not.toMatch(/undefined|NaN|Infinity/);
        }
      }),
      { numRuns: 100 },
    );
  });

  test("gives the same findings again, in whatever order its lines and zones stand", () => {
    fc.assert(
      fc.property(anyJob, fc.infiniteStream(fc.nat()), (one, chance) => {
        const shuffled = <T>(all: readonly T[]) =>
          all
            .map((item) => [chance.next().value ?? 0, item] as const)
            .toSorted((a, b) => a[0] - b[0])
            .map(([, item]) => item);
        const findings = assessPlausibility(one);
        expect(assessPlausibility(structuredClone(one))).toEqual(findings);
        expect(
          assessPlausibility({ ...one, zones: shuffled(one.zones), lines: shuffled(one.lines) }),
        ).toEqual(findings);
      }),
      { numRuns: 100 },
    );
  });
});

test("a real takeoff of a sound deck and stair leaves sound work without a remark", () => {
  const drawn = [deck(), stair()].map((one) => ({
    ...one,
    takeoff: takeoff({ ...one, lengthFt: null, widthFt: null, heightFt: null }),
  }));
  expect(drawn.map((one) => one.takeoff.findings)).toEqual([[], []]);
  expect(assessPlausibility(job(SOUND, { zones: drawn }))).toEqual([]);
  const screws = drafted("fastener", "replace", "60", "each", {
    rates: rates([material("Screws, stainless")]),
  });
  const findings = assessPlausibility(job([...SOUND, screws], { zones: drawn }));
  expect(findings.map(({ ruleId }) => ruleId)).toEqual(["fasteners_off_crossings"]);
});

test("other numbers make another key, and the same numbers the same", () => {
  const amount = fc.integer({ min: 14, max: 99 });
  fc.assert(
    fc.property(amount, amount, (a, b) => {
      const keys = (n: number) =>
        assessPlausibility(job([drafted("joist", "remove", String(n), "each")]))
          .filter(({ severity }) => severity === "blocking")
          .map(({ key }) => key);
      expect(keys(a)).toHaveLength(1);
      expect(keys(a)[0] === keys(b)[0]).toBe(a === b);
    }),
  );
});
