import type { Doer } from "@ledgerboard/contracts/vocabulary";
import { totalPrice } from "@ledgerboard/estimating";
import { forOne, money, quantity, sentence } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { lineName } from "./bill-parts.ts";
import { useEstimate } from "./context.ts";
import { Figure, Parts } from "./figure.tsx";
import type { Priced, Sheet } from "./prices.ts";
import { UnfoldAgreed } from "./unfold.tsx";

const OTHERS: readonly [Doer, string][] = [
  ["owner", "The owner does"],
  ["others", "Others do"],
];

/** What stands beside the price: optional extras, work charged only if it is found, and what others do. */
export function Beside({ sheet }: { sheet: Sheet }) {
  const { job, revision } = useEstimate();
  const all = [...sheet.priced.values()];
  const zoneName = (id: string) => job.zones.find((zone) => zone.id === id)?.name ?? "";
  const name = ({ line }: Priced) => lineName(line, zoneName(line.zoneId));
  const { alternates } = sheet.whole;
  const found = all.filter(({ standing }) => standing === "if_found");
  const away = all.filter(({ standing }) => standing === "not_ours");
  if (alternates.length + found.length + away.length === 0) return null;
  return (
    <Section title="Beside the price" note="on the quote, not in its sum" className="est-beside">
      {alternates.length > 0 && (
        <div>
          <h3>Optional extras</h3>
          {alternates.map((extra) => {
            const own = all.filter(
              ({ line, standing }) => standing === "alternate" && line.alternate === extra.name,
            );
            return (
              <Figure key={extra.name} name={extra.name} cents={extra.price.priceCents}>
                <Parts
                  caption={`Lines of ${extra.name}`}
                  parts={own.map((one) => ({ name: name(one), cents: one.price.priceCents }))}
                />
              </Figure>
            );
          })}
          {alternates.length > 1 && (
            <Figure
              name="All extras together"
              cents={totalPrice(alternates.map(({ price }) => price)).priceCents}
              sum
            />
          )}
        </div>
      )}
      {found.length > 0 && (
        <div>
          <h3>Only if found</h3>
          {found.map((one) => (
            <details key={one.line.id} className="est-figure">
              <summary>
                <span>
                  {name(one)}
                  {one.agreed && (
                    <small className="quiet block">
                      at most {quantity(one.agreed.capQuantity, one.line.unit)}, {money(one.agreed.capCents)}
                    </small>
                  )}
                </span>
                <b className="num">
                  {one.agreed ? `${money(one.agreed.unitPriceCents)} ${forOne(one.line.unit)}` : "no price"}
                </b>
              </summary>
              <UnfoldAgreed priced={one} terms={revision.terms} />
            </details>
          ))}
        </div>
      )}
      {OTHERS.map(([by, title]) => {
        const theirs = away.filter(({ line }) => line.by === by);
        return (
          theirs.length > 0 && (
            <div key={by}>
              <h3>{title}</h3>
              <ul className="plain est-theirs-list">
                {theirs.map((one) => (
                  <li key={one.line.id}>
                    {sentence(name(one))}, {quantity(one.line.quantity, one.line.unit)}
                  </li>
                ))}
              </ul>
            </div>
          )
        );
      })}
    </Section>
  );
}
