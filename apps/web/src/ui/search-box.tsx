import { useEffect, useState } from "react";
import { TextField } from "./text-field.tsx";

/** Typing settles before the service is asked. */
export const SETTLE_MS = 250;

/** A field that searches while one types; `value` is what is being searched for. */
export function SearchBox({
  label = "Find",
  placeholder,
  value,
  onChange,
}: {
  label?: string;
  placeholder: string;
  value: string;
  onChange: (text: string) => void;
}) {
  const [typed, setTyped] = useState(value);
  const [known, setKnown] = useState(value);
  if (known !== value) {
    setKnown(value);
    if (typed.trim() !== value) setTyped(value);
  }
  // biome-ignore lint/correctness/useExhaustiveDependencies: only typing starts the clock
  useEffect(() => {
    if (typed.trim() === value) return;
    const timer = setTimeout(() => onChange(typed.trim()), SETTLE_MS);
    return () => clearTimeout(timer);
  }, [typed]);
  return (
    <TextField
      label={label}
      name="q"
      type="search"
      placeholder={placeholder}
      autoComplete="off"
      maxLength={80}
      value={typed}
      onChange={setTyped}
    />
  );
}
