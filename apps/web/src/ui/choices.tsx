import type { ReactNode } from "react";
import { Checkbox as AriaCheckbox } from "react-aria-components/Checkbox";
import { CheckboxGroup as AriaCheckboxGroup } from "react-aria-components/CheckboxGroup";
import { RadioGroup as AriaRadioGroup, Radio } from "react-aria-components/RadioGroup";
import { ToggleButton } from "react-aria-components/ToggleButton";
import { ToggleButtonGroup } from "react-aria-components/ToggleButtonGroup";
import { FieldLabels, FieldNotes, type FieldProps, type Labels } from "./field.tsx";
import { words } from "./format.ts";

export interface Choice<T extends string> {
  value: T;
  label: string;
  /** A quieter word after the label, such as how many there are. */
  count?: ReactNode;
  hint?: ReactNode;
}
type Choices<T extends string> = readonly (T | Choice<T>)[];

const asChoice = <T extends string>(one: T | Choice<T>): Choice<T> =>
  typeof one === "string" ? { value: one, label: words(one) } : one;

/** Yes or no. */
export function Checkbox({
  label,
  hint,
  error,
  name,
  value,
  onChange,
  theirs,
}: FieldProps<boolean> & Omit<Labels, "optional">) {
  return (
    <div className="field">
      <AriaCheckbox
        className="check"
        name={name}
        isSelected={value}
        onChange={onChange}
        isInvalid={Boolean(error)}
      >
        <span className="box tick" aria-hidden="true" />
        <span>
          {label}
          {hint && <span className="hint"> {hint}</span>}
          {theirs !== undefined && <span className="hint"> Saved meanwhile: {theirs ? "yes" : "no"}</span>}
        </span>
      </AriaCheckbox>
      {error && <span className="field-error">{error}</span>}
    </div>
  );
}

/** Any of a few. */
export function CheckboxGroup<T extends string>({
  options,
  label,
  optional,
  hint,
  error,
  theirs,
  ...p
}: FieldProps<T[]> & Labels & { options: Choices<T> }) {
  return (
    <AriaCheckboxGroup
      className="field"
      name={p.name}
      value={p.value}
      onChange={(next) => p.onChange(next as T[])}
      isInvalid={Boolean(error)}
      validationBehavior="aria"
    >
      <FieldLabels label={label} optional={optional} />
      {options.map(asChoice).map((one) => (
        <AriaCheckbox key={one.value} value={one.value} className="check">
          <span className="box tick" aria-hidden="true" />
          <span>
            {one.label} {one.hint && <span className="hint">{one.hint}</span>}
          </span>
        </AriaCheckbox>
      ))}
      <FieldNotes hint={hint} error={error} theirs={theirs?.map(words).join(", ")} />
    </AriaCheckboxGroup>
  );
}

/** One of a few, each on its own line. */
export function RadioGroup<T extends string>({
  options,
  label,
  optional,
  hint,
  error,
  theirs,
  ...p
}: FieldProps<T> & Labels & { options: Choices<T> }) {
  return (
    <AriaRadioGroup
      className="field"
      name={p.name}
      value={p.value}
      onChange={(next) => p.onChange(next as T)}
      isInvalid={Boolean(error)}
      validationBehavior="aria"
    >
      <FieldLabels label={label} optional={optional} />
      {options.map(asChoice).map((one) => (
        <Radio key={one.value} value={one.value} className="check">
          <span className="box round" aria-hidden="true" />
          <span>
            {one.label} {one.hint && <span className="hint">{one.hint}</span>}
          </span>
        </Radio>
      ))}
      <FieldNotes hint={hint} error={error} theirs={theirs && words(theirs)} />
    </AriaRadioGroup>
  );
}

/** One of a few, side by side; for views and for choices made with a thumb. */
export function Segment<T extends string>({
  label,
  options,
  value,
  onChange,
}: {
  label: string;
  options: Choices<T>;
  value: T;
  onChange: (value: T) => void;
}) {
  return (
    <ToggleButtonGroup
      className="segment"
      aria-label={label}
      selectionMode="single"
      disallowEmptySelection
      selectedKeys={[value]}
      onSelectionChange={(keys) => {
        const [key] = keys;
        if (key !== undefined) onChange(key as T);
      }}
    >
      {options.map(asChoice).map((one) => (
        <ToggleButton key={one.value} id={one.value}>
          {one.label} {one.count !== undefined && <span className="count">{one.count}</span>}
        </ToggleButton>
      ))}
    </ToggleButtonGroup>
  );
}
