import type { Comparison } from "@ledgerboard/contracts/estimates";
import type { Job } from "@ledgerboard/contracts/jobs";
import { useSearchText } from "../../app/search.ts";
import { money, sentence, words } from "../../ui/format.ts";
import { Select } from "../../ui/select.tsx";

/** Which two revisions stand against each other. */
export function Choose({ job, from, to }: { job: Job } & Pick<Comparison, "from" | "to">) {
  const [, setSearch] = useSearchText();
  const options = job.revisions.map(({ id, number, kind, state, price }) => ({
    value: id,
    label: `${number}. ${sentence(words(kind))}${state === "draft" ? ", draft" : ""}, ${money(price)}`,
  }));
  if (options.length < 3) return null;
  return (
    <div className="cmp-choose no-print">
      <Select
        label="Compare from"
        name="from"
        options={options.filter(({ value }) => value !== to.id)}
        value={from.id}
        onChange={(next) => setSearch({ from: next, to: to.id })}
      />
      <Select
        label="To"
        name="to"
        options={options.filter(({ value }) => value !== from.id)}
        value={to.id}
        onChange={(next) => setSearch({ from: from.id, to: next })}
      />
    </div>
  );
}
