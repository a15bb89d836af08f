import "./picker.css";
import { useMemo } from "react";
import { Button as AriaButton } from "react-aria-components/Button";
import { ComboBox } from "react-aria-components/ComboBox";
import { Input } from "react-aria-components/Input";
import { ListBox, ListBoxItem } from "react-aria-components/ListBox";
import { Popover } from "react-aria-components/Popover";
import { FieldLabels, FieldNotes, type FieldProps, type Labels } from "./field.tsx";

interface PickOption {
  value: string;
  label: string;
  /** Beside the label, quietly; typing finds it too. */
  note?: string;
}

const textOf = ({ label, note }: PickOption) => (note ? `${label} (${note})` : label);

/** One of very many, found by typing a part of its label or note. Value "" while nothing is chosen. */
export function Picker({
  label,
  optional,
  hint,
  error,
  theirs,
  name,
  value,
  onChange,
  options,
  placeholder,
  autoFocus,
}: FieldProps<string> &
  Labels & {
    options: readonly PickOption[];
    placeholder?: string;
    autoFocus?: boolean;
  }) {
  // One that is not offered any more still says what it is.
  const items = useMemo(
    () =>
      value === "" || options.some((one) => one.value === value)
        ? options
        : [{ value, label: value }, ...options],
    [options, value],
  );
  const theirLabel =
    theirs === undefined ? undefined : (options.find((one) => one.value === theirs)?.label ?? theirs);
  return (
    <ComboBox
      className="field picker"
      name={name}
      defaultItems={items}
      value={value || null}
      onChange={(key) => onChange(key === null ? "" : String(key))}
      isInvalid={Boolean(error)}
      validationBehavior="aria"
      autoFocus={autoFocus ?? false}
      defaultFilter={(text, typed) =>
        typed
          .toLowerCase()
          .split(/\s+/)
          .every((word) => text.toLowerCase().includes(word))
      }
    >
      <FieldLabels label={label} optional={optional} />
      <span className="affixed has-button">
        <Input
          className="input"
          onFocus={(event) => event.currentTarget.select()}
          {...(placeholder && { placeholder })}
        />
        <AriaButton className="picker-open" aria-label="Show all">
          <span aria-hidden="true">▾</span>
        </AriaButton>
      </span>
      <FieldNotes hint={hint} error={error} theirs={theirLabel} />
      <Popover className="menu-frame picker-frame" offset={2}>
        <ListBox
          className="menu"
          items={items}
          renderEmptyState={() => <p className="picker-none quiet">Nothing is called that.</p>}
        >
          {(one: PickOption) => (
            <ListBoxItem id={one.value} textValue={textOf(one)} className="menu-item picker-item">
              {one.label}
              {one.note && <small className="quiet">{one.note}</small>}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </ComboBox>
  );
}
