import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { Button } from "../../ui/button.tsx";
import { useEstimate } from "./context.ts";
import type { Draft } from "./desk.ts";
import { departs, type Edit, isOtherWork, toEdit } from "./edit.ts";
import { Remove } from "./remove.tsx";

interface Props {
  line: ScopeLine;
  draft: Draft | undefined;
  base: ScopeLine | null;
  edit: Edit;
}

/** What can be done with a line that stands open. */
export function LineActs({ line, draft, base, edit }: Props) {
  const { desk, review, setOpen } = useEstimate();
  return (
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
