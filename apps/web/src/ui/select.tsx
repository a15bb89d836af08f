import { type FieldProps, type Labels, NativeField } from "./field.tsx";
import { words } from "./format.ts";

interface Props<T extends string> extends FieldProps<T>, Labels {
  /** Values of the vocabulary are shown in their plain words; others bring a label. */
  options: readonly (T | { value: T; label: string })[];
  /** Shown for "" while nothing is chosen. */
  empty?: string;
  disabled?: boolean;
}

/** One of many. The browser's own list: it is at home on every phone. */
export function Select<T extends string>({ options, empty, value, onChange, theirs, ...p }: Props<T>) {
  const pairs = options.map((o) => (typeof o === "string" ? { value: o, label: words(o) } : o));
  return (
    <NativeField
      {...p}
      theirs={theirs === undefined ? undefined : (pairs.find((o) => o.value === theirs)?.label ?? theirs)}
    >
      {(tie) => (
        <select
          {...tie}
          className="input"
          name={p.name}
          value={value}
          disabled={p.disabled}
          onChange={(event) => onChange(event.target.value as T)}
        >
          {empty !== undefined && <option value="">{empty}</option>}
          {pairs.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    </NativeField>
  );
}
