import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Button } from "../../ui/button.tsx";
import { toast } from "../../ui/toast.tsx";

interface Row {
  id: string;
  code: string;
  retired: boolean;
  version: number;
}

export function RetireMaterial({ row }: { row: Row }) {
  const back = useAct(api.updateMaterial, { done: `${row.code} can be chosen again.` });
  const send = (act: typeof back.act, { id, version }: Row, retired: boolean) =>
    act({ params: { materialId: id }, version, body: { retired } });
  const retire = useAct(api.updateMaterial, {
    onDone: (saved) =>
      toast(`${saved.code} is retired: recipes cannot choose it any more.`, {
        undo: () => send(back.act, saved, false),
      }),
  });
  return (
    <Toggle
      row={row}
      busy={back.busy || retire.busy}
      onPress={() => send(row.retired ? back.act : retire.act, row, !row.retired)}
    />
  );
}

export function RetireAssembly({ row }: { row: Row }) {
  const back = useAct(api.updateAssembly, { done: `${row.code} can be chosen again.` });
  const send = (act: typeof back.act, { id, version }: Row, retired: boolean) =>
    act({ params: { assemblyId: id }, version, body: { retired } });
  const retire = useAct(api.updateAssembly, {
    onDone: (saved) =>
      toast(`${saved.code} is retired: lines that use it stay, new ones cannot choose it.`, {
        undo: () => send(back.act, saved, false),
      }),
  });
  return (
    <Toggle
      row={row}
      busy={back.busy || retire.busy}
      onPress={() => send(row.retired ? back.act : retire.act, row, !row.retired)}
    />
  );
}

function Toggle({ row, busy, onPress }: { row: Row; busy: boolean; onPress: () => void }) {
  return (
    <Button
      small
      kind={row.retired ? undefined : "text"}
      busy={busy}
      aria-label={row.retired ? `Bring ${row.code} back` : `Retire ${row.code}`}
      onPress={onPress}
    >
      {row.retired ? "Bring back" : "Retire"}
    </Button>
  );
}
