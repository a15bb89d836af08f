import type { SimulatedCost } from "@ledgerboard/estimating";
import { memo, useMemo, useState } from "react";
import { errorWords } from "../../api/problem.ts";
import { Button } from "../../ui/button.tsx";
import { money, percent, quantity } from "../../ui/format.ts";
import { toast } from "../../ui/toast.tsx";
import { useEstimate } from "./context.ts";
import { Histogram } from "./histogram.tsx";
import type { Sheet } from "./prices.ts";
import { saveRevision } from "./revision-save.ts";
import { chanceWords, type PriceAtChance, pricesAtChances, spreadOf } from "./risk.ts";

/** What the job may cost, how likely the price loses money, and what price would lose it less often. */
export const Spread = memo(function Spread({ sheet }: { sheet: Sheet }) {
  const { revision } = useEstimate();
  const { terms } = revision;
  const { whole } = sheet;
  const spread = useMemo(() => spreadOf(whole, terms), [whole, terms]);
  if (!spread)
    return (
      <section className="est-spread" aria-label="What it may cost">
        <h3>What it may cost</h3>
        <p className="quiet">Shown once a line carries a price, and what is typed adds up.</p>
      </section>
    );
  const { priceCents } = whole.totals;
  const chance = chanceWords(spread, priceCents);
  const told = `At a price of ${money(priceCents)} the chance of losing money is ${chance}. In one of ten the job costs at most ${money(spread.p10Cents)}, in half of them ${money(spread.p50Cents)}, in nine of ten ${money(spread.p90Cents)}.`;
  return (
    <section className="est-spread" aria-label="What it may cost">
      <h3>What it may cost</h3>
      <Histogram
        spread={spread}
        priceCents={priceCents}
        label={`How often the job costs how much. ${told}`}
      />
      <p className="est-chance" role="status">
        Chance of losing money at {money(priceCents)}: <b className="nowrap">{chance}</b>
      </p>
      <dl className="facts est-tenths">
        <dt>
          One in ten costs at most <small className="quiet">P10</small>
        </dt>
        <dd className="num">{money(spread.p10Cents)}</dd>
        <dt>
          Half cost at most <small className="quiet">P50</small>
        </dt>
        <dd className="num">{money(spread.p50Cents)}</dd>
        <dt>
          Nine in ten cost at most <small className="quiet">P90</small>
        </dt>
        <dd className="num">{money(spread.p90Cents)}</dd>
        <dt>Labor, eight in ten</dt>
        <dd className="num">
          {quantity(spread.hours.p10)} to {quantity(spread.hours.p90)} h
        </dd>
        {spread.paidForFoundWorkCents > 0 && (
          <>
            <dt>Paid on average for found work, taken off</dt>
            <dd className="num">{money(spread.paidForFoundWorkCents)}</dd>
          </>
        )}
      </dl>
      <Prices sheet={sheet} />
      <details className="est-figures">
        <summary>The chart in figures</summary>
        <Bars spread={spread} priceCents={priceCents} />
      </details>
      <p className="quiet">
        <small>
          {quantity(String(spread.draws))} draws, always the same ones: labor about its hours, concealed work
          by its chance and bounds. Optional extras are left out.
        </small>
      </p>
    </section>
  );
});

/** What would have to be charged to lose money less often, and the margin that does it. */
function Prices({ sheet }: { sheet: Sheet }) {
  const { revision, mayPrice } = useEstimate();
  const [busy, setBusy] = useState(false);
  const { terms } = revision;
  const { whole } = sheet;
  const rows = useMemo(() => pricesAtChances(whole, terms), [whole, terms]);
  const set = async (marginBp: number): Promise<void> => {
    setBusy(true);
    try {
      const saved = await saveRevision(revision, { marginBp });
      toast(`The margin is ${percent(marginBp)} now.`, {
        undo: () => void saveRevision(saved, { marginBp: terms.marginBp }).catch(refused),
      });
    } catch (error) {
      refused(error);
    } finally {
      setBusy(false);
    }
  };
  return (
    <table className="table est-chances">
      <caption>What would lose money less often, or more</caption>
      <thead>
        <tr>
          <th scope="col">Chance of a loss</th>
          <th scope="col" className="num">
            Price
          </th>
          <th scope="col" className="num">
            Margin
          </th>
          {mayPrice && (
            <th scope="col" className="no-print">
              <span className="sr">Take it</span>
            </th>
          )}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.chanceBp}>
            <th scope="row">{percent(row.chanceBp)}</th>
            <td className="num">{money(row.givesCents ?? row.priceCents)}</td>
            <td className="num">{row.marginBp === null ? "over 90%" : percent(row.marginBp)}</td>
            {mayPrice && (
              <td className="num no-print">
                <Take row={row} now={terms.marginBp} busy={busy} onTake={(marginBp) => void set(marginBp)} />
              </td>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Take({
  row: { chanceBp, marginBp },
  now,
  busy,
  onTake,
}: {
  row: PriceAtChance;
  now: number;
  busy: boolean;
  onTake: (marginBp: number) => void;
}) {
  if (marginBp === null) return null;
  if (marginBp === now) return <small className="quiet">set</small>;
  return (
    <Button
      small
      isDisabled={busy}
      aria-label={`Set the margin to ${percent(marginBp)}, for a chance of a loss of ${percent(chanceBp)}`}
      onPress={() => onTake(marginBp)}
    >
      Set
    </Button>
  );
}

const refused = (error: unknown): void => toast(errorWords(error), { alarm: true });

function Bars({ spread, priceCents }: { spread: SimulatedCost; priceCents: number }) {
  const share = (count: number) => `${Math.round((1000 * count) / spread.draws) / 10}%`;
  return (
    <table className="table">
      <caption className="sr">How often the job costs how much</caption>
      <thead>
        <tr>
          <th scope="col">Cost</th>
          <th scope="col" className="num">
            How often
          </th>
        </tr>
      </thead>
      <tbody>
        {spread.histogram.map(({ fromCents, toCents, count }) => (
          <tr key={fromCents}>
            <th scope="row">
              {money(fromCents)} to {money(toCents)}
              {fromCents >= priceCents && <span className="alarm-text"> a loss</span>}
            </th>
            <td className="num">{share(count)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
