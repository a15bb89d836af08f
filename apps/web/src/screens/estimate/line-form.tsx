import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import {
  ACTIONS,
  type Action,
  COMPONENTS,
  type Component,
  DOERS,
  EVIDENCE,
  REASONS,
  UNITS,
} from "@ledgerboard/contracts/vocabulary";
import { ApiProblem } from "../../api/problem.ts";
import { Button } from "../../ui/button.tsx";
import { Segment } from "../../ui/choices.tsx";
import { fieldOf } from "../../ui/form.tsx";
import { words } from "../../ui/format.ts";
import { DecimalField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { actionsFor, itemsFor, turnTo } from "./book.ts";
import { useEstimate } from "./context.ts";
import type { Draft } from "./desk.ts";
import { departs, doerWords, type Edit, FIELDS, type Field, isOtherWork, toEdit } from "./edit.ts";
import { Remove } from "./remove.tsx";

const DOER_CHOICES = DOERS.map((value) => ({ value, label: doerWords(value) }));

/** Everything of one line, for changing it. In a site review: by thumb, action first. */
export function LineForm({ line, draft }: { line: ScopeLine; draft: Draft | undefined }) {
  const { book, job, desk, review, baseOf, setOpen } = useEstimate();
  const base = baseOf(line);
  const edit = draft?.edit ?? toEdit(line);
  const change = (next: Partial<Edit>) => desk.change(line, next);
  const faults = faultsOf(draft?.error);
  const field = <F extends Field>(
    name: F,
    to: (value: Edit[F]) => Partial<Edit> = (value) => ({ [name]: value }) as Partial<Edit>,
  ) => ({
    name,
    value: edit[name],
    onChange: (value: Edit[F]) => change(to(value)),
    error: faults[name],
  });
  /** Back to the work of the first pass takes its item and unit along, not the book's first choice. */
  const turn = (component: Component, action: Action): Partial<Edit> => {
    if (base && base.component === component && base.action === action)
      return {
        component,
        action,
        itemCode: base.itemCode,
        unit: base.unit,
        quantity: base.unit === edit.unit ? edit.quantity : base.quantity,
      };
    return turnTo(book, edit, { component, action });
  };
  const items = edit.action === "keep" ? [] : itemsFor(book, edit);
  const chosen = book?.items.find((item) => item.code === edit.itemCode);
  const retired =
    chosen && !items.includes(chosen) ? [{ value: chosen.code, label: chosen.description }] : [];
  const usual = new Set<Action>([
    ...actionsFor(book, edit.component),
    edit.action,
    ...(base ? [base.action] : []),
  ]);
  const thumbs = ACTIONS.filter((action) => usual.has(action));
  const others = ACTIONS.filter((action) => !usual.has(action));
  const differs = review && (base === null || departs(edit, base));

  return (
    <div className="est-form">
      <div className="est-thumbs">
        <span className="label" aria-hidden="true">
          What is done
        </span>
        <Segment
          label="What is done"
          options={thumbs}
          value={edit.action}
          onChange={(action) => change(turn(edit.component, action))}
        />
        {others.length > 0 && (
          <select
            className="input est-other"
            aria-label="Something else that is done"
            value=""
            onChange={(event) => change(turn(edit.component, event.target.value as Action))}
          >
            <option value="">something else…</option>
            {others.map((action) => (
              <option key={action} value={action}>
                {words(action)}, not in the price book
              </option>
            ))}
          </select>
        )}
      </div>
      <div className="est-measures">
        <DecimalField
          label="How much"
          suffix={edit.unit === "each" ? "each" : words(edit.unit)}
          {...field("quantity")}
        />
        {edit.action !== "keep" && (
          <Select
            label="Item of the price book"
            options={[
              ...retired,
              ...items.map(({ code, description }) => ({ value: code, label: description })),
            ]}
            empty="none: no price"
            name="itemCode"
            value={edit.itemCode ?? ""}
            error={faults.itemCode}
            onChange={(code) => {
              const unit = book?.items.find((item) => item.code === code)?.unit ?? edit.unit;
              change({
                itemCode: code || null,
                unit,
                quantity: unit === edit.unit ? edit.quantity : null,
              });
            }}
          />
        )}
        {edit.itemCode === null && <Select label="Counted in" options={UNITS} {...field("unit")} />}
      </div>
      <div className="est-thumbs">
        <span className="label" aria-hidden="true">
          How it is known
        </span>
        <Segment
          label="How it is known"
          options={EVIDENCE}
          value={edit.evidence}
          onChange={(evidence) => change({ evidence })}
        />
      </div>
      {differs && (
        <>
          <div className="est-thumbs">
            <span className="label" aria-hidden="true">
              Why it differs
            </span>
            <Segment<NonNullable<Edit["reasonCode"]> | "">
              label="Why it differs"
              options={REASONS}
              value={edit.reasonCode ?? ""}
              onChange={(code) => change({ reasonCode: code || null })}
            />
            {faults.reasonCode && <span className="field-error">{faults.reasonCode}</span>}
          </div>
          <TextField
            label="In a few words"
            placeholder="probed at 12 places, dry"
            maxLength={500}
            {...field("reason")}
          />
        </>
      )}
      <details className="est-more">
        <summary>Who does it, wording, zone and component</summary>
        <div className="est-thumbs">
          <Segment
            label="Carried out"
            options={DOER_CHOICES}
            value={edit.by}
            onChange={(by) => change({ by })}
          />
        </div>
        <TextField
          label="Description"
          optional
          maxLength={300}
          hint="Stands on the quote below the work."
          {...field("description")}
        />
        <div className="est-measures">
          <Select
            label="Zone"
            options={job.zones.map(({ id, name }) => ({ value: id, label: name }))}
            {...field("zoneId")}
          />
          <Select
            label="Component"
            options={COMPONENTS}
            {...field("component", (component) => turn(component, edit.action))}
          />
        </div>
      </details>
      <div className="row">
        <Button
          small
          kind="main"
          onPress={() => {
            desk.flush(line.id);
            setOpen(null);
          }}
        >
          Done
        </Button>
        {review && base && (line.reviewed || isChanged(edit, base)) && (
          <BackTo line={line} base={base} edit={edit} />
        )}
        {draft && (
          <Button small onPress={() => desk.giveUp(line.id)}>
            Undo what is not saved
          </Button>
        )}
        <Remove line={line} base={base} />
      </div>
    </div>
  );
}

const isChanged = (edit: Edit, base: ScopeLine) =>
  departs(edit, base) || isOtherWork(edit, base) || edit.evidence !== base.evidence;

/** Two ways back for a line that was looked at: to what it said, or among those still to be looked at. */
function BackTo({ line, base, edit }: { line: ScopeLine; base: ScopeLine; edit: Edit }) {
  const { desk } = useEstimate();
  if (isChanged(edit, base))
    return (
      <Button
        small
        onPress={() => {
          desk.change(line, { ...toEdit(base), reasonCode: null, reason: "" }, true);
          desk.flush(line.id);
        }}
      >
        Back to as estimated
      </Button>
    );
  return (
    <Button
      small
      onPress={() => {
        desk.change(line, {}, false);
        desk.flush(line.id);
      }}
    >
      Not reviewed after all
    </Button>
  );
}

/** Faults the service found, by field. */
function faultsOf(error: unknown): Partial<Record<Field, string>> {
  if (!(error instanceof ApiProblem)) return {};
  const faults: Partial<Record<Field, string>> = {};
  for (const { path, message } of error.errors) {
    const name = fieldOf(path, FIELDS) as Field | undefined;
    if (name) faults[name] ??= message;
  }
  return faults;
}
