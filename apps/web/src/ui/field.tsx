import { type ReactNode, useId } from "react";
import { FieldError } from "react-aria-components/FieldError";
import { Label } from "react-aria-components/Label";
import { Text } from "react-aria-components/Text";

/** What `form.field(name)` gives to a field. */
export interface FieldProps<T> {
  name: string;
  value: T;
  onChange: (value: T) => void;
  error?: string | undefined;
  /** What somebody else saved meanwhile. */
  theirs?: T | undefined;
}

export interface Labels {
  label: string;
  /** A word of help below the field. */
  hint?: ReactNode;
  /** Says that it may stay empty. */
  optional?: boolean | undefined;
}

export const LabelText = ({ label, optional }: Labels) => (
  <>
    {label}
    {optional && <span className="optional"> (optional)</span>}
  </>
);

/** Label, hint and error of a field made with the component library. */
export function FieldLabels({ label, optional }: Labels) {
  return (
    <Label className="label">
      <LabelText label={label} optional={optional} />
    </Label>
  );
}

export function FieldNotes({
  hint,
  error,
  theirs,
}: {
  hint?: ReactNode;
  error?: string | undefined;
  theirs?: string | undefined;
}) {
  return (
    <>
      {(hint || theirs !== undefined) && (
        <Text slot="description" className="hint">
          {hint}
          {theirs !== undefined && <TheirNote>{theirs}</TheirNote>}
        </Text>
      )}
      <FieldError className="field-error">{error}</FieldError>
    </>
  );
}

const TheirNote = ({ children }: { children: string }) => (
  <span className="theirs">Saved meanwhile: {children === "" ? "nothing" : children}</span>
);

/** Frame of a field that is a native control: select, day. Passes what ties label and notes to it. */
export function NativeField({
  label,
  optional,
  hint,
  error,
  theirs,
  children,
}: Labels & {
  error?: string | undefined;
  theirs?: string | undefined;
  children: (tie: { id: string; "aria-describedby": string; "aria-invalid": boolean }) => ReactNode;
}) {
  const id = useId();
  return (
    <div className="field" data-invalid={error ? true : undefined}>
      <label className="label" htmlFor={id}>
        <LabelText label={label} optional={optional} />
      </label>
      {children({ id, "aria-describedby": `${id}-notes`, "aria-invalid": Boolean(error) })}
      <span id={`${id}-notes`} className="field">
        {hint && <span className="hint">{hint}</span>}
        {theirs !== undefined && <TheirNote>{theirs}</TheirNote>}
        {error && <span className="field-error">{error}</span>}
      </span>
    </div>
  );
}
