import type { Revision } from "@ledgerboard/contracts/estimates";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { useAct } from "../../api/act.ts";
import { call } from "../../api/client.ts";
import { api } from "../../api/generated/endpoints.ts";
import type { Output } from "../../api/wire.ts";
import { Button } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { longDay, money, moneyChange, plural } from "../../ui/format.ts";
import { Loaded } from "../../ui/states.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { Bridge } from "../compare/bridge.tsx";
import { boardsOf } from "../compare/spans.ts";
import { useEstimate } from "./context.ts";

type Newer = NonNullable<Revision["newerPrices"]>;
type Answer = Output<NonNullable<typeof api.refreshPrices.contract>>;

/** Says that prices have moved since the draft was begun, and leads to what they would do. */
export function NewerPrices({ newer }: { newer: Newer }) {
  const { revision } = useEstimate();
  const [asked, setAsked] = useState(false);
  const same = newer.bookId === revision.priceBookId;
  return (
    <div className="notice est-newer no-print">
      <p>Prices have changed since this draft was started.</p>
      <p>
        {same
          ? `“${newer.name}” has other prices now.`
          : `“${newer.name}” is in effect from ${longDay(newer.effectiveFrom)}; this draft is priced from “${revision.priceBookName}”.`}{" "}
        Nothing moves unless you say so.
      </p>
      <div className="row">
        <Button small onPress={() => setAsked(true)}>
          See what would move
        </Button>
      </div>
      {asked && <RefreshDialog onClose={() => setAsked(false)} />}
    </div>
  );
}

function RefreshDialog({ onClose }: { onClose: () => void }) {
  const { revision } = useEstimate();
  const trial = useQuery({
    queryKey: ["trialPrices", revision.id, revision.version],
    queryFn: ({ signal }) =>
      call(api.refreshPrices, {
        params: { revisionId: revision.id },
        body: { dryRun: true },
        key: crypto.randomUUID(),
        signal,
      }),
    staleTime: 0,
    gcTime: 0,
  });
  return (
    <Dialog title="Today's prices" open onClose={onClose} wide>
      <Loaded query={trial} rows={8}>
        {(answer) => <Trial answer={answer} onClose={onClose} />}
      </Loaded>
    </Dialog>
  );
}

const COLUMNS: Column<Answer["lines"][number]>[] = [
  { title: "Line", cell: ({ words }) => words },
  { title: "Now", num: true, cell: ({ before }) => money(before) },
  { title: "At today's prices", num: true, cell: ({ after }) => money(after) },
  {
    title: "Change",
    num: true,
    cell: ({ before, after }) => <b>{moneyChange(after.cents - before.cents)}</b>,
  },
];

/** The way from the old price to the new one, the lines that move, and the choice. */
function Trial({ answer, onClose }: { answer: Answer; onClose: () => void }) {
  const { revision, desk } = useEstimate();
  const apply = useAct(api.refreshPrices, {
    done: ({ to }) => `At today's prices: ${money(to)}.`,
    onDone: onClose,
  });
  const unsaved = desk.unsaved().length;
  const { from, to, book, bridge, lines, kept } = answer;
  const { boards, still } = boardsOf(
    { name: "now", cents: from.cents, note: revision.priceBookName },
    { name: "at today's prices", cents: to.cents, note: book.name },
    bridge,
    () => "",
  );
  return (
    <>
      <p>
        {from.cents === to.cents
          ? `The price stays at ${money(to)}.`
          : `From ${money(from)} to ${money(to)}: ${moneyChange(to.cents - from.cents)}.`}
      </p>
      <Bridge boards={boards} still={still} />
      {lines.length > 0 && (
        <Table caption="Lines that move" columns={COLUMNS} rows={lines} rowKey={({ lineId }) => lineId} />
      )}
      {kept.length > 0 && (
        <div className="notice">
          <p>{plural(kept.length, "line")} would keep what they have:</p>
          <ul>
            {kept.map(({ lineId, words, why }) => (
              <li key={lineId}>
                {words}. {why}
              </li>
            ))}
          </ul>
        </div>
      )}
      {unsaved > 0 && (
        <p className="notice alarm">{plural(unsaved, "line")} not saved yet. Save or undo first.</p>
      )}
      <div className="row">
        <Button
          kind="main"
          isDisabled={unsaved > 0}
          busy={apply.busy}
          onPress={() => apply.act({ params: { revisionId: revision.id }, body: { dryRun: false } })}
        >
          Take today's prices
        </Button>
        <Button onPress={onClose}>Leave it as it is</Button>
      </div>
    </>
  );
}
