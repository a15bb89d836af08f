import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { Button } from "../../ui/button.tsx";
import { quantity, words } from "../../ui/format.ts";
import { useEstimate } from "./context.ts";
import type { Draft } from "./desk.ts";
import { allowanceOf, type Edit, FIELDS, type Field, toEdit } from "./edit.ts";
import { allowanceWords, doerWords } from "./told.ts";

const NAMES: Record<Field, string> = {
  zoneId: "Zone",
  component: "Component",
  action: "Action",
  assemblyCode: "Assembly",
  quantity: "How much",
  unit: "Counted in",
  evidence: "How it is known",
  allowance: "Allowance",
  by: "Who does it",
  alternate: "Optional extra",
  description: "In words",
  reasonCode: "Why it differs",
  reason: "In a few words",
};
const AS_WRITTEN: readonly Field[] = ["assemblyCode", "alternate", "description", "reason"];

/** Somebody saved the line while it was being changed here: both side by side, and the choice. */
export function Theirs({ line, draft }: { line: ScopeLine; draft: Draft }) {
  const { desk, job } = useEstimate();
  if (!draft.theirs) return null;
  const theirs = toEdit(draft.theirs);
  const say = (edit: Edit, field: Field): string => {
    if (field === "allowance") {
      const allowance = allowanceOf(edit);
      return allowance ? allowanceWords(allowance, edit.unit) : "—";
    }
    const value = edit[field];
    if (value === null || value === "") return "—";
    if (field === "zoneId") return job.zones.find(({ id }) => id === value)?.name ?? value;
    if (field === "quantity") return quantity(value, edit.unit);
    if (field === "by") return doerWords(edit.by);
    return AS_WRITTEN.includes(field) ? value : words(value);
  };
  const differing = FIELDS.filter((field) => say(draft.edit, field) !== say(theirs, field));
  return (
    <div className="notice est-theirs" role="alert">
      <p>Somebody changed this line meanwhile. Yours is not saved.</p>
      <table className="table">
        <thead>
          <tr>
            <th scope="col">
              <span className="sr">What</span>
            </th>
            <th scope="col">Yours</th>
            <th scope="col">Saved meanwhile</th>
          </tr>
        </thead>
        <tbody>
          {differing.map((field) => (
            <tr key={field}>
              <th scope="row">{NAMES[field]}</th>
              <td>{say(draft.edit, field)}</td>
              <td>{say(theirs, field)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="row">
        <Button small kind="main" onPress={() => desk.settle(line.id, "mine")}>
          Save mine over it
        </Button>
        <Button small onPress={() => desk.settle(line.id, "theirs")}>
          Take theirs
        </Button>
      </div>
    </div>
  );
}
