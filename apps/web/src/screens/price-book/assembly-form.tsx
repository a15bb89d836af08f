import type { Assembly, PriceBook } from "@ledgerboard/contracts/price-book";
import {
  ACTIONS,
  type Action,
  COMPONENTS,
  type Component,
  UNITS,
  type Unit,
} from "@ledgerboard/contracts/vocabulary";
import { useBlocker, useNavigate } from "@tanstack/react-router";
import { useRef } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Button, ButtonLink } from "../../ui/button.tsx";
import { ConfirmDialog } from "../../ui/confirm-dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { PercentField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextArea, TextField } from "../../ui/text-field.tsx";
import { unitWord } from "./book.ts";
import { missingCodes } from "./example.ts";
import { LaborRows } from "./labor-rows.tsx";
import { MaterialRows } from "./material-rows.tsx";
import { faultsOf, readRecipe, recipeDraft } from "./recipe-draft.ts";
import { rowFaults } from "./row-faults.ts";
import { WorkedExample } from "./worked-example.tsx";

/** What is kept has no price, so nothing is needed for it. */
const PRICED_ACTIONS = ACTIONS.filter((action) => action !== "keep");
const EMPTY = { materials: [], labor: [], disposalUnitCents: "0", equipmentUnitCents: "0", laborCvBp: 2500 };

/** An assembly as a recipe to fill in, and what it comes to, beside it, with every key pressed. */
export function AssemblyForm({ book, assembly }: { book: PriceBook; assembly: Assembly | undefined }) {
  const navigate = useNavigate();
  const gone = useRef(false);
  const add = useAct(api.addAssembly, { done: "The assembly is added." });
  const save = useAct(api.updateAssembly, { done: "Saved. Lines already written keep their rates." });
  const draft = recipeDraft(assembly?.recipe ?? EMPTY);
  const form = useForm({
    initial: {
      code: assembly?.code ?? "",
      component: (assembly?.component ?? "") as Component | "",
      action: (assembly?.action ?? "replace") as Action,
      unit: (assembly?.unit ?? "each") as Unit,
      description: assembly?.description ?? "",
      note: assembly?.note ?? "",
      "recipe.materials": draft.materials,
      "recipe.labor": draft.labor,
      "recipe.disposalUnitCents": draft.disposal,
      "recipe.equipmentUnitCents": draft.equipment,
      "recipe.laborCvBp": draft.laborCvBp,
    },
    version: assembly?.version,
    check: (values) => {
      const { faults } = read(values);
      const first = (list: string) => Object.keys(faults).find((path) => path.startsWith(`recipe.${list}.`));
      return {
        code:
          assembly || /^[A-Z0-9-]{2,40}$/.test(values.code.trim())
            ? undefined
            : "Capitals, digits and hyphens, like DECK-BOARD-REPLACE.",
        component: values.component ? undefined : "Choose the component.",
        description: values.description.trim() ? undefined : "Say what it is.",
        "recipe.materials": faults[first("materials") ?? ""],
        "recipe.labor": faults[first("labor") ?? ""],
        "recipe.disposalUnitCents": faults["recipe.disposalUnitCents"],
        "recipe.equipmentUnitCents": faults["recipe.equipmentUnitCents"],
        "recipe.laborCvBp": faults["recipe.laborCvBp"],
      };
    },
    submit: async (values, version) => {
      const { code, component, action, unit, description, note } = values;
      if (!component) return;
      const { recipe } = read(values);
      const body = { component, action, unit, description, note, recipe };
      if (assembly) {
        await save.send({ params: { assemblyId: assembly.id }, version, body });
        return;
      }
      const made = await add.send({ params: { bookId: book.id }, body: { code: code.trim(), ...body } });
      gone.current = true;
      await navigate({
        to: "/price-book/$bookId/assemblies/$assemblyId",
        params: { bookId: book.id, assemblyId: made.id },
        replace: true,
      });
    },
  });
  const leaving = useBlocker({
    shouldBlockFn: () => form.dirty && !gone.current,
    enableBeforeUnload: () => form.dirty && !gone.current,
    withResolver: true,
  });
  const { values } = form;
  const { recipe, faults, at } = read(values);
  // What the book lacks is wrong whatever else is typed; the rest is told once somebody wants to save.
  const lacking = faultsOf(missingCodes(recipe, book), at);
  const rowsOf = (list: "materials" | "labor") => {
    const path = `recipe.${list}`;
    const field = form.field(path as "recipe.materials");
    const told = field.error ? { ...below(faults, path), ...rowFaults(form.error, path, at[list]) } : {};
    return { ...below(lacking, path), ...told };
  };
  const one = unitWord(values.unit);
  const leftOut =
    values["recipe.materials"].length + values["recipe.labor"].length - at.materials.length - at.labor.length;
  return (
    <div className="pb-beside pb-editor">
      <Form form={form} label="Assembly">
        {!assembly && (
          <TextField
            label="Code"
            hint="It stays: lines refer to it."
            autoFocus
            maxLength={40}
            {...form.field("code")}
            onChange={(code) => form.set("code", code.toUpperCase())}
          />
        )}
        <TextField label="Description" maxLength={160} {...form.field("description")} />
        <div className="pair">
          <Select label="Component" options={COMPONENTS} empty="choose" {...form.field("component")} />
          <Select label="What is done" options={PRICED_ACTIONS} {...form.field("action")} />
          <Select label="Counted in" options={UNITS} {...form.field("unit")} />
        </div>
        <MaterialRows
          book={book}
          unit={values.unit}
          faults={rowsOf("materials")}
          {...form.field("recipe.materials")}
        />
        <LaborRows book={book} unit={values.unit} faults={rowsOf("labor")} {...form.field("recipe.labor")} />
        <div className="pair">
          <TextField
            label={`Hauling and tipping, one ${one}`}
            prefix="$"
            inputMode="decimal"
            autoComplete="off"
            hint="Fractions of a cent may be given."
            {...form.field("recipe.disposalUnitCents")}
          />
          <TextField
            label={`Equipment, one ${one}`}
            prefix="$"
            inputMode="decimal"
            autoComplete="off"
            {...form.field("recipe.equipmentUnitCents")}
          />
        </div>
        <PercentField
          label="How far hours vary"
          hint="25%: in about two jobs of three the hours stay within a quarter of those above. It moves no price; it widens the range of what a job may cost."
          {...form.field("recipe.laborCvBp")}
        />
        <TextArea
          label="Note"
          optional
          hint="Where the figures come from. A starting figure says that it is a placeholder: replace it with your own."
          rows={3}
          maxLength={500}
          {...form.field("note")}
        />
        <div className="row">
          <FormActions form={form} submit={assembly ? "Save" : "Add the assembly"} always={!assembly} />
          {form.dirty && assembly && <Button onPress={() => form.reset()}>As saved</Button>}
          <ButtonLink to="/price-book" search={{ book: book.id }} kind="text">
            Back to the price book
          </ButtonLink>
        </div>
      </Form>
      <WorkedExample book={book} recipe={recipe} unit={values.unit} leftOut={leftOut} />
      <ConfirmDialog
        title="Leave without saving?"
        open={leaving.status === "blocked"}
        onClose={() => leaving.reset?.()}
        confirm="Leave"
        alarm
        onConfirm={() => leaving.proceed?.()}
      >
        <p>What was changed in this assembly would be lost.</p>
      </ConfirmDialog>
    </div>
  );
}

type Draft = ReturnType<typeof recipeDraft>;

const read = (values: {
  "recipe.materials": Draft["materials"];
  "recipe.labor": Draft["labor"];
  "recipe.disposalUnitCents": string;
  "recipe.equipmentUnitCents": string;
  "recipe.laborCvBp": number | null;
}) =>
  readRecipe({
    materials: values["recipe.materials"],
    labor: values["recipe.labor"],
    disposal: values["recipe.disposalUnitCents"],
    equipment: values["recipe.equipmentUnitCents"],
    laborCvBp: values["recipe.laborCvBp"],
  });

/** Those of the faults that lie below a path, by what follows it. */
function below(faults: Record<string, string>, path: string): Record<string, string> {
  return Object.fromEntries(
    Object.entries(faults).flatMap(([key, words]) =>
      key.startsWith(`${path}.`) ? [[key.slice(path.length + 1), words]] : [],
    ),
  );
}
