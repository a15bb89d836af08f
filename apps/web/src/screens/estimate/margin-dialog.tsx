import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { money, moneyChange } from "../../ui/format.ts";
import { PercentField } from "../../ui/number-fields.tsx";
import { useEstimate } from "./context.ts";
import type { Sheet } from "./prices.ts";
import { saveRevision } from "./revision-save.ts";
import { chanceWords, priceAtMarginOf, spreadOf } from "./risk.ts";

const MOST_BP = 9000;

/** Sets the draft's margin, with what that makes of the price while it is typed. */
export function MarginDialog({ sheet, onClose }: { sheet: Sheet; onClose: () => void }) {
  const { revision } = useEstimate();
  const { terms } = revision;
  const { whole } = sheet;
  const form = useForm({
    initial: { marginBp: terms.marginBp as number | null },
    version: revision.version,
    check: ({ marginBp }) => ({
      marginBp: marginBp === null ? "A percentage like 30." : marginBp > MOST_BP ? "At most 90%." : undefined,
    }),
    submit: async ({ marginBp }) => {
      await saveRevision(revision, { marginBp: marginBp ?? terms.marginBp });
      onClose();
    },
  });
  const { marginBp } = form.values;
  const sound = marginBp !== null && marginBp <= MOST_BP;
  const price = sound ? priceAtMarginOf(whole.lines, whole.charges, terms)(marginBp) : null;
  const spread = spreadOf(whole, terms);
  return (
    <Dialog title="The margin of this draft" open onClose={onClose}>
      <Form form={form}>
        <PercentField
          label="Margin"
          hint="A share of the price, for this draft only. The price book keeps its own."
          autoFocus
          {...form.field("marginBp")}
        />
        {price !== null && (
          <p role="status">
            The price becomes <b>{money(price)}</b> ({moneyChange(price - whole.totals.priceCents)}).
            {spread && ` Chance of losing money at it: ${chanceWords(spread, price)}.`}
          </p>
        )}
        <FormActions form={form} submit="Set the margin" cancel={onClose} always={false} />
      </Form>
    </Dialog>
  );
}
