import { useState } from "react";
import { Button } from "../../ui/button.tsx";
import { Segment } from "../../ui/choices.tsx";
import { Form, useForm } from "../../ui/form.tsx";
import { money, plural, quantity } from "../../ui/format.ts";
import { PercentField, WholeField } from "../../ui/number-fields.tsx";
import { Section } from "../../ui/section.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { CostChart } from "./chart.tsx";
import { breakEvenWords, type Choices, cumulative, type Life, type Worth } from "./cumulative.ts";

interface Props {
  data: Choices;
  busy: boolean;
  onTerms: (terms: { years: number; discountBp: number }) => void;
}

const WORTHS: { value: Worth; label: string }[] = [
  { value: "present", label: "In today's worth" },
  { value: "paid", label: "As it is paid" },
];

/** What each choice of decking costs now and over the years. */
export function LifePart({ data, busy, onTerms }: Props) {
  const { choices, years, deckSqft } = data;
  const [worth, setWorth] = useState<Worth>("present");
  const columns: Column<Life>[] = [
    {
      title: "Decking",
      cell: (life) => (
        <div>
          {life.name}
          <small className="quiet block">{breakEvenWords(life, choices, years)}</small>
        </div>
      ),
    },
    { title: "Now", num: true, cell: ({ now }) => money(now) },
    { title: `Over ${years} years, as paid`, num: true, cell: ({ undiscounted }) => money(undiscounted) },
    { title: "In today's worth", num: true, cell: ({ presentValue }) => <b>{money(presentValue)}</b> },
    { title: "The same a year", num: true, cell: ({ perYear }) => money(perYear) },
  ];
  return (
    <Section id="years" title="Decking over the years" note="estimates for comparing, not promises">
      {choices.length === 0 ? (
        <p className="quiet">
          Nothing to compare: the price book has no assembly that replaces decking by the square foot, or no
          area of decking is known.
        </p>
      ) : (
        <>
          <p>
            {quantity(String(Number(Number(deckSqft).toFixed(1))))} sq ft of deck boards, the frame below them
            left out. These are estimates: how long boards and finishes last depends on shade, drainage and
            use.
          </p>
          <Terms data={data} busy={busy} onTerms={onTerms} />
          <Table caption="Choices of decking" columns={columns} rows={choices} rowKey={({ name }) => name} />
          <figure className="choices-figure">
            <figcaption className="row">
              <span>What each has cost by the end of a year</span>
              <Segment label="Money counted" options={WORTHS} value={worth} onChange={setWorth} />
            </figcaption>
            <CostChart choices={choices} years={years} worth={worth} />
            {choices.some(({ flows }) => flows.some(({ cost }) => cost.cents < 0)) && (
              <p className="quiet">
                <small>
                  In the last year, what is left of the boards' life is taken off, so that long and short
                  lives compare.
                </small>
              </p>
            )}
            <YearTable choices={choices} years={years} worth={worth} />
          </figure>
        </>
      )}
      <h3>Where the figures come from</h3>
      <ul className="choices-notes">
        {data.notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
    </Section>
  );
}

function Terms({ data: { years, discountBp }, busy, onTerms }: Props) {
  const form = useForm({
    initial: { years: years as number | null, discountBp: discountBp as number | null },
    check: (typed) => ({
      years:
        typed.years === null || typed.years < 1 || typed.years > 60
          ? "Whole years, from 1 to 60."
          : undefined,
      discountBp:
        typed.discountBp === null || typed.discountBp > 2000
          ? "A percentage from 0 to 20, such as 3 or 2.5."
          : undefined,
    }),
    submit: async (typed) => {
      if (typed.years !== null && typed.discountBp !== null)
        onTerms({ years: typed.years, discountBp: typed.discountBp });
    },
  });
  return (
    <div className="choices-terms no-print">
      <Form form={form} label="Years and rate">
        <WholeField label="Years looked at" suffix="yr" {...form.field("years")} />
        <PercentField
          label="Discount rate, beyond inflation"
          hint="later money counts less by so much a year"
          {...form.field("discountBp")}
        />
        <Button type="submit" busy={busy} isDisabled={!form.dirty}>
          Work it out again
        </Button>
      </Form>
    </div>
  );
}

/** The chart in figures: the years in which anything is paid. */
function YearTable({ choices, years, worth }: { choices: readonly Life[]; years: number; worth: Worth }) {
  const sums = choices.map((choice) => cumulative(choice, years, worth));
  const due = [...new Set(choices.flatMap(({ flows }) => flows.map(({ year }) => year)))].sort(
    (a, b) => a - b,
  );
  const paid = ({ flows }: Life, year: number) =>
    flows
      .filter((flow) => flow.year === year)
      .map((flow) => `${flow.words} ${money(worth === "paid" ? flow.cost : flow.present)}`)
      .join(", ");
  const columns: Column<number>[] = [
    { title: "Year", cell: (year) => (year === 0 ? "now" : year) },
    ...choices.map((choice, i) => ({
      title: choice.name,
      num: true,
      cell: (year: number) => (
        <div>
          {money(sums[i]?.[year] ?? 0)}
          <small className="quiet block">{paid(choice, year)}</small>
        </div>
      ),
    })),
  ];
  return (
    <details className="choices-details">
      <summary>The figures, {plural(due.length, "year")} in which something is paid</summary>
      <Table caption="Cost by the end of each year" columns={columns} rows={due} rowKey={String} />
    </details>
  );
}
