import { type ReactNode, useState } from "react";
import { Input } from "react-aria-components/Input";
import { TextArea as AriaTextArea } from "react-aria-components/TextArea";
import { TextField as AriaTextField } from "react-aria-components/TextField";
import { Button } from "./button.tsx";
import { FieldLabels, FieldNotes, type FieldProps, type Labels } from "./field.tsx";

export interface TextFieldProps extends FieldProps<string>, Labels {
  type?: "text" | "email" | "tel" | "password" | "search";
  inputMode?: "text" | "numeric" | "decimal";
  autoComplete?: string;
  autoFocus?: boolean;
  placeholder?: string;
  maxLength?: number;
  disabled?: boolean;
  onBlur?: () => void;
  prefix?: ReactNode;
  suffix?: ReactNode;
}

/** One line of text. */
export function TextField({ label, hint, optional, error, theirs, ...p }: TextFieldProps) {
  const [shown, setShown] = useState(false);
  const secret = p.type === "password";
  return (
    <AriaTextField
      className="field"
      name={p.name}
      value={p.value}
      onChange={p.onChange}
      type={secret && shown ? "text" : (p.type ?? "text")}
      isInvalid={Boolean(error)}
      isDisabled={p.disabled ?? false}
      validationBehavior="aria"
      {...(p.autoComplete && { autoComplete: p.autoComplete })}
      {...(p.inputMode && { inputMode: p.inputMode })}
      {...(p.maxLength && { maxLength: p.maxLength })}
      {...(p.onBlur && { onBlur: p.onBlur })}
      {...(p.autoFocus && { autoFocus: true })}
    >
      <FieldLabels label={label} optional={optional} />
      <span className={secret ? "affixed has-button" : "affixed"}>
        {p.prefix && <span className="prefix">{p.prefix}</span>}
        <Input
          className={p.suffix ? "input with-suffix" : "input"}
          {...(p.placeholder && { placeholder: p.placeholder })}
        />
        {p.suffix && <span className="suffix">{p.suffix}</span>}
        {secret && (
          <Button
            kind="text"
            small
            aria-pressed={shown}
            aria-label="Show the password"
            onPress={() => setShown(!shown)}
          >
            {shown ? "Hide" : "Show"}
          </Button>
        )}
      </span>
      <FieldNotes hint={hint} error={error} theirs={theirs} />
    </AriaTextField>
  );
}

export interface TextAreaProps extends FieldProps<string>, Labels {
  rows?: number;
  maxLength?: number;
  autoFocus?: boolean;
}

/** Several lines of text. */
export function TextArea({ label, hint, optional, error, theirs, rows = 4, ...p }: TextAreaProps) {
  return (
    <AriaTextField
      className="field"
      name={p.name}
      value={p.value}
      onChange={p.onChange}
      isInvalid={Boolean(error)}
      validationBehavior="aria"
      {...(p.maxLength && { maxLength: p.maxLength })}
      {...(p.autoFocus && { autoFocus: true })}
    >
      <FieldLabels label={label} optional={optional} />
      <AriaTextArea className="input" rows={rows} />
      <FieldNotes hint={hint} error={error} theirs={theirs} />
    </AriaTextField>
  );
}
