import { useId } from "react";
import { type FieldProps, type Labels, NativeField } from "./field.tsx";

interface Props extends FieldProps<string>, Labels {
  suggestions: readonly string[];
  maxLength?: number;
  placeholder?: string;
}

/** A line of text that may be one of a few known ones. The browser's own list: it is at home on every phone. */
export function SuggestField({ suggestions, value, onChange, maxLength, placeholder, ...p }: Props) {
  const list = useId();
  return (
    <NativeField {...p}>
      {(tie) => (
        <>
          <input
            {...tie}
            className="input"
            name={p.name}
            value={value}
            list={list}
            autoComplete="off"
            maxLength={maxLength}
            placeholder={placeholder}
            onChange={(event) => onChange(event.target.value)}
          />
          <datalist id={list}>
            {suggestions.map((text) => (
              <option key={text} value={text} />
            ))}
          </datalist>
        </>
      )}
    </NativeField>
  );
}
