import { useState } from "react";
import type { FieldProps, Labels } from "./field.tsx";
import { money } from "./format.ts";
import { editDollars, editPercent, parseDecimal, parseDollars, parsePercent, scaled } from "./numbers.ts";
import { TextField, type TextFieldProps } from "./text-field.tsx";

type Common<T> = FieldProps<T | null> & Labels & Pick<TextFieldProps, "disabled" | "autoFocus">;

interface Notation<T> {
  parse: (text: string) => T | null;
  edit: (value: T) => string;
  show?: (value: T) => string;
  wrong: string;
  inputMode: "decimal" | "numeric";
}

/**
 * A text field over an exact value. While somebody types, the text is theirs; the value is null as long as
 * the text is empty or not a number, and the field says so once it is left.
 */
function useNotation<T>(
  { value, onChange, error, theirs, ...rest }: Common<T>,
  how: Notation<T>,
): TextFieldProps {
  const [typed, setTyped] = useState<{ text: string; value: T | null } | null>(null);
  const [left, setLeft] = useState(false);
  const text = typed && typed.value === value ? typed.text : value === null ? "" : how.edit(value);
  const wrong = left && text.trim() !== "" && how.parse(text) === null;
  return {
    ...rest,
    value: text,
    inputMode: how.inputMode,
    autoComplete: "off",
    error: wrong ? how.wrong : error,
    theirs: theirs === undefined ? undefined : theirs === null ? "" : (how.show ?? how.edit)(theirs),
    onChange: (next) => {
      const parsed = how.parse(next);
      setTyped({ text: next, value: parsed });
      setLeft(false);
      onChange(parsed);
    },
    onBlur: () => setLeft(true),
  };
}

/** Dollars on screen, whole cents in the form. */
export function MoneyField(props: Common<number>) {
  const field = useNotation(props, {
    parse: parseDollars,
    edit: editDollars,
    show: (cents) => money(cents),
    wrong: "An amount like 1250 or 1,250.50.",
    inputMode: "decimal",
  });
  return <TextField {...field} prefix="$" />;
}

/** Percent on screen, basis points (hundredths of a percent) in the form. */
export function PercentField(props: Common<number>) {
  const field = useNotation(props, {
    parse: parsePercent,
    edit: editPercent,
    wrong: "A percentage like 12 or 12.5.",
    inputMode: "decimal",
  });
  return <TextField {...field} suffix="%" />;
}

/** An exact decimal, kept as text: quantity, hours, feet. `suffix` shows the unit. */
export function DecimalField({ suffix, ...props }: Common<string> & { suffix?: string }) {
  const field = useNotation(props, {
    parse: parseDecimal,
    edit: (value: string) => value,
    wrong: "A number like 12 or 12.5, at most 4 decimals.",
    inputMode: "decimal",
  });
  return <TextField {...field} suffix={suffix} />;
}

/** A whole number. */
export function WholeField({ suffix, ...props }: Common<number> & { suffix?: string }) {
  const field = useNotation(props, {
    parse: (text) => scaled(text, 0),
    edit: String,
    wrong: "A whole number.",
    inputMode: "numeric",
  });
  return <TextField {...field} suffix={suffix} />;
}
