import "./waiting.css";
import type { JobRow } from "@ledgerboard/contracts/jobs";
import { useQuery } from "@tanstack/react-query";
import { useCallback, useState } from "react";
import { useAct } from "../api/act.ts";
import { api } from "../api/generated/endpoints.ts";
import { errorWords } from "../api/problem.ts";
import { q } from "../api/queries.ts";
import { useSearchText } from "../app/search.ts";
import { useMay, useSession } from "../app/session.ts";
import { Button, ButtonLink } from "../ui/button.tsx";
import { Segment } from "../ui/choices.tsx";
import { ReasonDialog } from "../ui/confirm-dialog.tsx";
import { sentence, words } from "../ui/format.ts";
import { Page } from "../ui/page.tsx";
import { SearchBox } from "../ui/search-box.tsx";
import { Select } from "../ui/select.tsx";
import { EmptyState, Loaded } from "../ui/states.tsx";
import { toast } from "../ui/toast.tsx";
import { type Filter, PAGE_SIZE } from "./waiting/chunk.tsx";
import { Planks } from "./waiting/planks.tsx";
import {
  heading,
  inStage,
  summary,
  VIEWS,
  type View,
  WAITING_STAGES,
  type WaitingStage,
} from "./waiting/tell.ts";

export default function Waiting() {
  const [search, setSearch] = useSearchText();
  const view: View = VIEWS.find((one) => one === search.view) ?? "waiting";
  const stage = view === "waiting" ? WAITING_STAGES.find((one) => one === search.stage) : undefined;
  const text = search.q?.slice(0, 80);
  const { today } = useSession();
  const may = useMay();
  const counts = useQuery(q.counts());
  const filter: Filter = { view, stage, search: text, limit: String(PAGE_SIZE) };
  const first = useQuery(q.jobs(filter));
  const { dialog, onPin } = usePin();
  const numbers = counts.data;

  return (
    <Page
      title={numbers ? heading(view, numbers) : sentence(words(view))}
      lead={numbers && summary(numbers)}
      actions={
        may("leads.create") && (
          <ButtonLink to="/new" kind="main">
            Take an inquiry
          </ButtonLink>
        )
      }
    >
      <search className="wait-tools no-print">
        <Segment<View>
          label="Which jobs"
          value={view}
          onChange={(next) => setSearch({ view: next === "waiting" ? undefined : next, stage: undefined })}
          options={VIEWS.map((one) => ({
            value: one,
            label: words(one),
            count: numbers && (one === "waiting" ? numbers.waiting : inStage(numbers, one)),
          }))}
        />
        {view === "waiting" && (
          <Select<WaitingStage | "">
            label="Stage"
            name="stage"
            value={stage ?? ""}
            onChange={(next) => setSearch({ stage: next })}
            empty="any stage"
            options={WAITING_STAGES.map((one) => ({
              value: one,
              label: numbers ? `${words(one)}, ${inStage(numbers, one)}` : words(one),
            }))}
          />
        )}
        <SearchBox
          placeholder="number, name, place"
          value={text ?? ""}
          onChange={(next) => setSearch({ q: next })}
        />
      </search>
      <Loaded query={first} rows={12}>
        {(page) =>
          page.items.length === 0 ? (
            <NoRows
              view={view}
              narrowed={Boolean(text || stage)}
              onWiden={() => setSearch({ q: undefined, stage: undefined })}
            />
          ) : (
            <Planks
              key={JSON.stringify(filter)}
              filter={filter}
              first={page.items}
              today={today}
              label={`Jobs ${words(view)}`}
              onPin={may("jobs.pin") && view === "waiting" ? onPin : undefined}
            />
          )
        }
      </Loaded>
      {dialog}
    </Page>
  );
}

function NoRows({ view, narrowed, onWiden }: { view: View; narrowed: boolean; onWiden: () => void }) {
  const may = useMay();
  if (narrowed)
    return (
      <EmptyState
        title="No job fits that"
        actions={<Button onPress={onWiden}>Show all {words(view)}</Button>}
      >
        Look for a part of the number, the customer's name or the place.
      </EmptyState>
    );
  if (view !== "waiting") return <EmptyState title={`No job is ${words(view)}`} />;
  return (
    <EmptyState
      title="Nobody is waiting"
      actions={may("leads.create") && <ButtonLink to="/new">Take an inquiry</ButtonLink>}
    >
      Every inquiry shows up here as a plank that grows by the day until a crew is booked.
    </EmptyState>
  );
}

/** Pinning asks why; letting go can be undone. */
function usePin() {
  const [asked, setAsked] = useState<JobRow | null>(null);
  const { act, send } = useAct(api.pinJob);
  const onPin = useCallback(
    (row: JobRow) => {
      if (!row.pinnedWhy) return setAsked(row);
      const why = row.pinnedWhy;
      send({ params: { jobId: row.id }, body: { why: null } })
        .then(() =>
          toast(`${row.number} is back in its place.`, {
            undo: () => act({ params: { jobId: row.id }, body: { why } }),
          }),
        )
        .catch((error: unknown) => toast(errorWords(error), { alarm: true }));
    },
    [act, send],
  );
  const dialog = (
    <ReasonDialog
      title={`Pin ${asked?.number ?? ""} to the head of the list`}
      open={asked !== null}
      onClose={() => setAsked(null)}
      confirm="Pin it"
      hint={`Everybody sees it with the job, ${asked?.customerName ?? ""}.`}
      onReason={async (why) => asked && send({ params: { jobId: asked.id }, body: { why } })}
    />
  );
  return { dialog, onPin };
}
