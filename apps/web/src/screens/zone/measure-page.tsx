import type { Job, Zone } from "@ledgerboard/contracts/jobs";
import { EVIDENCE, type Evidence } from "@ledgerboard/contracts/vocabulary";
import { takeoff } from "@ledgerboard/estimating";
import { Link } from "@tanstack/react-router";
import { useDeferredValue, useMemo } from "react";
import { ApiProblem, errorWords } from "../../api/problem.ts";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { plural, sentence, words } from "../../ui/format.ts";
import { Page } from "../../ui/page.tsx";
import { Select } from "../../ui/select.tsx";
import { toast } from "../../ui/toast.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { zonesStay } from "../job/zones.tsx";
import { Board } from "./board.tsx";
import { Conflict } from "./conflict.tsx";
import { type Measuring, MeasuringContext } from "./context.ts";
import { freshDraft, isChanged, keepDraft, measuresOf, useKeptDraft, type ZoneDraft } from "./draft.ts";
import { DeckingPart, FramingPart } from "./frame-part.tsx";
import { GuardsPart } from "./guards-part.tsx";
import { StairsPart } from "./stairs-part.tsx";
import { SurfacePart } from "./surface-part.tsx";
import { Findings, goTo, TakeoffPanel } from "./takeoff-panel.tsx";
import { fromTyped, type TypedGeometry, typedOutline, typedPoint } from "./typed.ts";
import { useHistory } from "./use-history.ts";
import { useFollow, useLeaveWarning, useSave } from "./use-saving.ts";

/** Measures one zone: fields on one side, the plan and what it comes to on the other. */
export function MeasurePage({ job, zone }: { job: Job; zone: Zone }) {
  const { member } = useSession();
  const may = useMay();
  const stay = zonesStay(job.stage);
  const editable = may("estimates.first_pass") && !stay;
  const kept = useKeptDraft(zone.id, member.id);
  const draft = kept ?? freshDraft(zone);
  const changed = kept !== null && isChanged(kept, zone);
  const keep = (next: ZoneDraft | null) => keepDraft(zone.id, member.id, next);
  const history = useHistory(draft.typed);
  const { save, saving, error, refusals, clear } = useSave(job.id, zone, draft);

  const { geometry, faults } = useMemo(() => fromTyped(draft.typed), [draft.typed]);
  const drawn = useDeferredValue(geometry);
  const counted = useMemo(
    () => takeoff({ kind: zone.kind, geometry: drawn, lengthFt: null, widthFt: null, heightFt: null }),
    [zone.kind, drawn],
  );
  const findings = counted.findings;
  const moved = kept !== null && zone.version !== kept.version;
  const conflict = moved && changed && measuresOf(zone) !== kept.base;
  useFollow(zone, kept, changed, keep);
  useLeaveWarning(changed);

  const put = (typed: TypedGeometry) => {
    history.note(draft.typed);
    keep({ ...draft, typed });
    clear();
  };
  const set = (change: Partial<TypedGeometry>) => put({ ...draft.typed, ...change });
  const measuring: Measuring = {
    typed: draft.typed,
    set,
    refusal: (path) => refusals.get(path),
    findings: (path) => findings.filter(({ field }) => field === path).map((one) => one.words),
    remarksIn: (path) => findings.filter(({ field }) => field.startsWith(path)).length,
  };
  const onSave = async () => {
    const [fault] = faults;
    if (fault) {
      toast(`Not saved: ${fault.words}`, { alarm: true });
      goTo(fault.field);
      return;
    }
    await save(findings.length);
  };
  return (
    <MeasuringContext value={measuring}>
      <Page
        title={`${zone.name}, ${job.number}`}
        over={
          <Link to="/jobs/$jobId" params={{ jobId: job.id }} hash="zones">
            {job.number} {job.customerName}
          </Link>
        }
        heading={sentence(zone.name)}
        lead={
          <>
            {sentence(words(zone.kind))}, {words(zone.evidence)}.{" "}
            {counted.areaSqft !== null &&
              `${sentence(plural(Math.round(Number(counted.areaSqft)), "square foot", "square feet"))}.`}{" "}
            {zone.notes}
          </>
        }
        actions={<Button onPress={() => window.print()}>Print the plan</Button>}
      >
        {!editable && (
          <p className="notice">
            {stay ?? `Only to look at: ${whoMay("estimates.first_pass")} may measure zones.`}
          </p>
        )}
        {error !== null && (
          <div className="notice alarm" role="alert">
            <p>{errorWords(error)}</p>
            {error instanceof ApiProblem && error.errors.length > 0 && (
              <ul>
                {error.errors.map((one) => (
                  <li key={`${one.path} ${one.message}`}>{one.message}</li>
                ))}
              </ul>
            )}
          </div>
        )}
        {conflict && kept && (
          <Conflict
            zone={zone}
            draft={kept}
            onMine={() => keep({ ...kept, version: zone.version, base: measuresOf(zone) })}
            onTheirs={() => {
              keep(null);
              const mine = { ...kept, version: zone.version, base: measuresOf(zone) };
              toast("Theirs is taken.", { undo: () => keep(mine) });
            }}
          />
        )}
        <div className="zone-bench">
          <fieldset className="zone-fields" disabled={!editable}>
            <legend className="sr">Measures</legend>
            <SurfacePart
              shelf={draft.shelf}
              onPut={(outline, shelf) => {
                history.note(draft.typed);
                keep({ ...draft, shelf, typed: { ...draft.typed, outline } });
                clear();
              }}
            />
            <FramingPart />
            <DeckingPart />
            <StairsPart />
            <GuardsPart />
            <div className="zone-known">
              <Select<Evidence>
                name="evidence"
                label="How the measures are known"
                options={EVIDENCE}
                value={draft.evidence}
                onChange={(evidence) => {
                  keep({ ...draft, evidence });
                  clear();
                }}
              />
            </div>
          </fieldset>
          <div className="zone-side">
            <div className="zone-view">
              <Board
                name={zone.name}
                geometry={geometry}
                counted={counted}
                onOutline={editable ? (outline) => set({ outline: typedOutline(outline) }) : undefined}
                onCutout={(i, points) =>
                  set({
                    cutouts: draft.typed.cutouts.map((one, k) =>
                      k === i ? { points: points.map((p) => typedPoint(p.x, p.y)) } : one,
                    ),
                  })
                }
              />
              <Findings findings={findings} />
            </div>
            <div className="zone-counted">
              <TakeoffPanel counted={counted} />
            </div>
          </div>
        </div>
        {editable && (
          <div className="zone-foot no-print">
            <span role="status" className={changed ? "zone-unsaved" : "quiet"}>
              {changed ? "Not saved yet" : zone.geometry ? "Saved" : "Not measured yet"}
              {findings.length > 0 && <span className="quiet"> · {plural(findings.length, "remark")}</span>}
            </span>
            <span className="row">
              <Button
                small
                isDisabled={!history.can}
                onPress={() => {
                  const before = history.back();
                  if (before) keep({ ...draft, typed: before });
                }}
              >
                Undo
              </Button>
              <Button
                kind="main"
                busy={saving}
                isDisabled={conflict || (!changed && zone.geometry !== null)}
                onPress={() => void onSave()}
              >
                Save the measures
              </Button>
            </span>
          </div>
        )}
      </Page>
    </MeasuringContext>
  );
}
