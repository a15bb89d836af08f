import { useEffect, useRef, useState, useSyncExternalStore } from "react";
import { Button } from "./button.tsx";

interface Toast {
  id: number;
  text: string;
  alarm: boolean;
  undo: (() => void) | undefined;
}

const SHOWN_MS = 7000;
let toasts: readonly Toast[] = [];
let nextId = 1;
const listeners = new Set<() => void>();
function change(next: readonly Toast[]): void {
  toasts = next;
  for (const listener of listeners) listener();
}
const drop = (id: number) => change(toasts.filter((one) => one.id !== id));

/** Says something in passing. `undo` offers to take the act back; an alarm stays until it is put away. */
export function toast(
  text: string,
  { alarm = false, undo }: { alarm?: boolean; undo?: () => void } = {},
): void {
  const others = toasts.filter((one) => one.text !== text).slice(-3);
  change([...others, { id: nextId++, text, alarm, undo }]);
}

const subscribe = (listener: () => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

/** Where toasts appear; in the page once. Both regions stand empty from the start, so that they are read out. */
export function Toasts() {
  const all = useSyncExternalStore(subscribe, () => toasts);
  return (
    <div className="toasts no-print">
      <div role="alert">
        {all
          .filter((one) => one.alarm)
          .map((one) => (
            <ToastStrip key={one.id} toast={one} />
          ))}
      </div>
      <div role="status">
        {all
          .filter((one) => !one.alarm)
          .map((one) => (
            <ToastStrip key={one.id} toast={one} />
          ))}
      </div>
    </div>
  );
}

function ToastStrip({ toast: { id, text, alarm, undo } }: { toast: Toast }) {
  const [held, setHeld] = useState(false);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  useEffect(() => {
    if (alarm || held) return;
    timer.current = setTimeout(() => drop(id), undo ? 2 * SHOWN_MS : SHOWN_MS);
    return () => clearTimeout(timer.current);
  }, [id, alarm, held, undo]);
  const hold = {
    onMouseEnter: () => setHeld(true),
    onMouseLeave: () => setHeld(false),
    onFocus: () => setHeld(true),
    onBlur: () => setHeld(false),
  };
  return (
    <div className={alarm ? "toast alarm" : "toast"} {...hold}>
      <span>{text}</span>
      {undo && (
        <Button
          kind="text"
          small
          onPress={() => {
            drop(id);
            undo();
          }}
        >
          Undo
        </Button>
      )}
      <Button kind="text" small onPress={() => drop(id)}>
        Close
      </Button>
    </div>
  );
}
