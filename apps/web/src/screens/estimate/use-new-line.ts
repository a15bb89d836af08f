import type { Action, Component, Doer, Evidence, Reason, Unit } from "@ledgerboard/contracts/vocabulary";
import { useMemo } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { type FormState, orNull, useForm } from "../../ui/form.tsx";
import { type AllowanceEdit, allowanceFaults, wholeAllowance } from "./allowance.ts";
import { ratesOf } from "./book.ts";
import { useEstimate } from "./context.ts";
import { allowanceOf } from "./edit.ts";
import { type Priced, priceAll, typedLine } from "./prices.ts";

interface Values extends Record<string, unknown> {
  component: Component | "";
  action: Action | "";
  assemblyCode: string | null;
  quantity: string | null;
  unit: Unit;
  evidence: Evidence;
  allowance: AllowanceEdit | null;
  by: Doer;
  alternate: string;
  reasonCode: Reason | "";
  reason: string;
}
export type NewLineForm = FormState<Values>;

/** The identity of a line that is being written; remarks on it carry it. */
export const comingId = (zoneId: string): string => `coming-${zoneId}`;

/** The form of a new line, and what it comes to while it is typed. `onAdded` once it is in. */
export function useNewLine(
  zoneId: string,
  onAdded: () => void,
): { form: NewLineForm; priced: Priced | null } {
  const { revision, job, book, review } = useEstimate();
  const add = useAct(api.addLine);
  const form = useForm<Values>({
    initial: {
      component: "",
      action: "",
      assemblyCode: null,
      quantity: null,
      unit: "each",
      evidence: review ? "measured" : "assumed",
      allowance: null,
      by: "us",
      alternate: "",
      reasonCode: review ? "missed" : "",
      reason: "",
    },
    check: (v) => {
      const allowance = allowanceOf(v);
      const fault = allowance && Object.values(allowanceFaults(allowance, v.quantity))[0];
      return {
        component: v.component ? undefined : "Choose what it is.",
        action: v.action ? undefined : "Choose what is done.",
        quantity: v.quantity !== null && Number(v.quantity) > 0 ? undefined : "Enter how much.",
        allowance: fault ?? undefined,
        reasonCode: review && !v.reasonCode ? "Choose why it was not in the estimate." : undefined,
        reason: review && v.reason.trim().length < 3 ? "Say why in a few words." : undefined,
      };
    },
    submit: async ({ component, action, quantity, ...rest }) => {
      if (!component || !action || quantity === null) return;
      const { assemblyCode, unit, evidence, by } = rest;
      await add.send({
        params: { revisionId: revision.id },
        body: {
          zoneId,
          component,
          action,
          assemblyCode,
          quantity,
          unit,
          evidence,
          by,
          alternate: orNull(rest.alternate),
          allowance: wholeAllowance(allowanceOf(rest)),
          reasonCode: rest.reasonCode || null,
          reason: orNull(rest.reason),
        },
      });
      form.reset({
        ...form.values,
        component: "",
        action: "",
        assemblyCode: null,
        quantity: null,
        allowance: null,
        reason: "",
      });
      onAdded();
    },
  });
  const { values } = form;
  const { terms } = revision;
  const salt = job.property.saltExposure;
  const priced = useMemo((): Priced | null => {
    const { component, action, assemblyCode } = values;
    if (!component || !action) return null;
    const id = comingId(zoneId);
    const edit = { ...values, zoneId, component, action, description: "", reasonCode: null };
    const line = typedLine({ id, lineageId: id }, edit, ratesOf(book, assemblyCode, salt));
    const one = line && priceAll([line], [], terms).lines[0];
    return line && one ? { line, price: one.price, standing: one.standing, agreed: one.agreed } : null;
  }, [values, zoneId, book, salt, terms]);
  return { form, priced };
}
