import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  allowanceOf,
  charges,
  decimal,
  Exact,
  line,
  quantity,
  rates,
  sum,
  terms,
  total,
} from "../pricing/arbitraries.fixture.ts";
import { priceRevision, standingOf } from "../pricing/revision.ts";
import { compareRevisions, type PricedScope } from "./compare.ts";
import type { ComparableLine } from "./differences.ts";
import type { MaterialityPolicy } from "./materiality.ts";

type Sides = [ComparableLine | null, ComparableLine | null];

/** What may become of one line: gone, new, left alone, changed in some fields, or rewritten altogether. */
const pair = (lineageId: string): fc.Arbitrary<Sides> =>
  fc.oneof(
    line(lineageId).map((l): Sides => [l, null]),
    line(lineageId).map((l): Sides => [null, l]),
    line(lineageId).map((l): Sides => [l, { ...l, id: `${l.id}-copy` }]),
    fc.tuple(line(lineageId), quantity, rates).chain(([l, q, r]) =>
      fc
        .record(
          {
            quantity: fc.constant(q),
            rates: fc.constant(r),
            allowance: fc.option(allowanceOf(q)),
            evidence: fc.constantFrom("measured" as const, "found" as const),
          },
          { requiredKeys: [] },
        )
        .map((change): Sides => [l, { ...l, ...change }]),
    ),
    fc.tuple(line(lineageId), line(lineageId)),
  );
const present = <T>(lines: (T | null)[]): T[] => lines.filter((l) => l !== null);
const sides = fc
  .nat(8)
  .chain((n) => fc.tuple(...Array.from({ length: n }, (_, i) => pair(`line-${i}`))))
  .map((pairs) => ({ before: present(pairs.map((p) => p[0])), after: present(pairs.map((p) => p[1])) }));
/** Two revisions, each with its own charges and terms. */
const revisions: fc.Arbitrary<[PricedScope, PricedScope]> = fc
  .tuple(sides, charges, charges, terms, terms)
  .map(([{ before, after }, oldCharges, newCharges, oldTerms, newTerms]) => [
    { lines: before, charges: oldCharges, terms: oldTerms },
    { lines: after, charges: newCharges, terms: newTerms },
  ]);
const policy: fc.Arbitrary<MaterialityPolicy> = fc.record({
  amountCents: fc.nat(1_000_000),
  percentBp: fc.nat(5000),
  hours: fc.option(decimal(100, 2)),
  structuralAction: fc.boolean(),
});
const inBase = (line: ComparableLine | null) => line !== null && standingOf(line) === "base";

describe("comparing", () => {
  it("the bridge adds up to the cent, and so does every line", () => {
    fc.assert(
      fc.property(revisions, policy, ([before, after], policy) => {
        const result = compareRevisions(before, after, policy);
        const from = priceRevision(before, before.terms);
        const to = priceRevision(after, after.terms);
        const delta = to.totals.priceCents - from.totals.priceCents;
        expect(result.bridge.fromCents).toBe(from.totals.priceCents);
        expect(result.bridge.toCents).toBe(to.totals.priceCents);
        expect(sum(result.bridge.steps.map((s) => s.cents))).toBe(delta);

        const beside = ({ charges, adjustments }: typeof from) =>
          sum([...charges, ...adjustments].map((one) => one.price.priceCents));
        const wholeJob = result.bridge.steps.find((s) => s.step === "whole_job")?.cents;
        expect(wholeJob).toBe(beside(to) - beside(from));
        expect(sum(result.changes.map((c) => c.deltaCents)) + Number(wholeJob)).toBe(delta);
        for (const change of result.changes) {
          expect(sum(change.steps.map((s) => s.cents))).toBe(change.deltaCents);
          expect(change.afterCents - change.beforeCents).toBe(change.deltaCents);
          expect(change.steps.every((s) => s.step !== "whole_job" && s.cents !== 0)).toBe(true);
        }
        for (const { step, cents } of result.bridge.steps.slice(0, -1)) {
          const own = result.changes.flatMap((c) => c.steps.filter((s) => s.step === step));
          expect(sum(own.map((s) => s.cents))).toBe(cents);
        }
        const deltas = total(result.changes.map((c) => new Exact(c.deltaHours)));
        expect(result.hours.delta).toBe(deltas.toFixed());
        expect(result.hours.delta).toBe(new Exact(to.totals.hours).minus(from.totals.hours).toFixed());
      }),
      { numRuns: 250 },
    );
  });

  it("extras, what is charged only if found and work that is not ours move nothing", () => {
    fc.assert(
      fc.property(revisions, policy, ([before, after], policy) => {
        const { changes, bridge } = compareRevisions(before, after, policy);
        for (const change of changes) {
          if (!inBase(change.before)) expect(change.beforeCents).toBe(0);
          if (!inBase(change.after)) expect(change.afterCents).toBe(0);
          if (!inBase(change.before) && !inBase(change.after)) {
            expect([change.deltaCents, change.deltaHours, change.steps]).toEqual([0, "0", []]);
          }
        }
        const base = ({ lines, ...rest }: PricedScope) => ({ ...rest, lines: lines.filter(inBase) });
        const alone = compareRevisions(base(before), base(after), policy).bridge;
        const ends = ({ fromCents, toCents, steps }: typeof bridge) => [fromCents, toCents, steps.at(-1)];
        expect(ends(alone)).toEqual(ends(bridge));
      }),
      { numRuns: 150 },
    );
  });

  it("loses and invents no line", () => {
    fc.assert(
      fc.property(revisions, policy, ([before, after], policy) => {
        const { changes } = compareRevisions(before, after, policy);
        expect(new Set(present(changes.map((c) => c.before)))).toEqual(new Set(before.lines));
        expect(new Set(present(changes.map((c) => c.after)))).toEqual(new Set(after.lines));
        expect(changes.filter((c) => c.before)).toHaveLength(before.lines.length);
        expect(changes.filter((c) => c.after)).toHaveLength(after.lines.length);
      }),
    );
  });

  it("a revision compared with itself has changed in nothing and is not material", () => {
    fc.assert(
      fc.property(revisions, policy, ([before], policy) => {
        const result = compareRevisions(before, structuredClone(before), policy);
        expect(result.changes.every((c) => c.kind === "unchanged" && c.steps.length === 0)).toBe(true);
        expect(result.bridge.steps.every((s) => s.cents === 0)).toBe(true);
        expect(result.verdict.material).toBe(false);
        expect(result.hours.delta).toBe("0");
      }),
    );
  });

  it("the way back is the way there with its sign turned, in price and hours", () => {
    fc.assert(
      fc.property(revisions, policy, ([before, after], policy) => {
        const there = compareRevisions(before, after, policy);
        const back = compareRevisions(after, before, policy);
        expect(back.bridge.toCents - back.bridge.fromCents).toBe(
          -(there.bridge.toCents - there.bridge.fromCents) + 0,
        );
        expect(new Exact(back.hours.delta).plus(there.hours.delta).toFixed()).toBe("0");
        const step = (name: string, { bridge }: typeof there) =>
          bridge.steps.find((s) => s.step === name)?.cents ?? Number.NaN;
        // What does not depend on which side's rates come first: lines, other work and the whole job.
        expect(step("removed", back)).toBe(-step("added", there) + 0);
        expect(step("added", back)).toBe(-step("removed", there) + 0);
        expect(step("action", back)).toBe(-step("action", there) + 0);
        expect(step("whole_job", back)).toBe(-step("whole_job", there) + 0);
      }),
    );
  });
});
