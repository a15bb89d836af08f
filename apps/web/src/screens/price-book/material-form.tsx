import type { Material } from "@ledgerboard/contracts/price-book";
import { MATERIAL_UNITS, type MaterialUnit } from "@ledgerboard/contracts/vocabulary";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Checkbox } from "../../ui/choices.tsx";
import { Form, FormActions, orNull, useForm } from "../../ui/form.tsx";
import { Select } from "../../ui/select.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { PackRows } from "./pack-rows.tsx";
import { packDrafts, readPacks } from "./packs.ts";

/** A material and the packs it is sold in. */
export function MaterialForm({
  bookId,
  material,
  onClose,
}: {
  bookId: string;
  material: Material | undefined;
  onClose: () => void;
}) {
  const add = useAct(api.addMaterial, { done: "The material is added." });
  const save = useAct(api.updateMaterial, { done: "Saved. Lines already written keep their rates." });
  const form = useForm({
    initial: {
      code: material?.code ?? "",
      name: material?.name ?? "",
      unit: (material?.unit ?? "each") as MaterialUnit,
      section: material?.section ?? "",
      wholePacks: material?.wholePacks ?? true,
      packs: material ? packDrafts(material.packs) : [{ key: "p0", size: null, cents: null }],
    },
    version: material?.version,
    check: ({ code, name, packs }) => ({
      code:
        material || /^[A-Z0-9-]{2,40}$/.test(code.trim())
          ? undefined
          : "Capitals, digits and hyphens, like DECK-BOARD.",
      name: name.trim() ? undefined : "Say what it is.",
      packs: Object.values(readPacks(packs).faults)[0],
    }),
    submit: async ({ code, packs, section, ...rest }, version) => {
      const body = { ...rest, section: orNull(section), packs: readPacks(packs).packs };
      if (material) await save.send({ params: { materialId: material.id }, version, body });
      else await add.send({ params: { bookId }, body: { code: code.trim(), ...body } });
      onClose();
    },
  });
  return (
    <Form form={form} label="Material">
      <div className="pair">
        {!material && (
          <TextField
            label="Code"
            hint="It stays: recipes refer to it."
            autoFocus
            maxLength={40}
            {...form.field("code")}
            onChange={(code) => form.set("code", code.toUpperCase())}
          />
        )}
        <TextField label="Name" maxLength={120} {...form.field("name")} />
      </div>
      <div className="pair">
        <Select label="Counted in" options={MATERIAL_UNITS} {...form.field("unit")} />
        <TextField
          label="Section"
          optional
          hint="For boards cut to length, such as 2x8: each pack is then a board, its size the length in ft."
          maxLength={40}
          {...form.field("section")}
        />
      </div>
      <PackRows
        unit={form.values.unit}
        boards={form.values.section.trim() !== ""}
        problem={form.error}
        {...form.field("packs")}
      />
      <Checkbox
        label="Bought in whole packs for the job"
        hint="What is left over is charged to the job too. Otherwise it is taken from stock, as used."
        {...form.field("wholePacks")}
      />
      <FormActions
        form={form}
        submit={material ? "Save" : "Add the material"}
        cancel={onClose}
        always={!material}
      />
    </Form>
  );
}
