import type { ReactNode } from "react";
import { Button } from "../../ui/button.tsx";
import { InchesField } from "../../ui/inches-field.tsx";
import { WholeField } from "../../ui/number-fields.tsx";
import { useMeasuring } from "./context.ts";
import { nameOf } from "./labels.ts";
import { isSigned, unitAt } from "./typed.ts";

interface At<T> {
  /** Path of the field, such as "geometry.stairs[0].widthIn". */
  at: string;
  value: T;
  onChange: (value: T) => void;
  label?: string;
  hint?: ReactNode;
  optional?: boolean;
}

/** What the takeoff says about a field or a part, in place. */
export function Remarks({ at }: { at: string }) {
  const { findings } = useMeasuring();
  return findings(at).map((words) => (
    <span key={words} className="zone-remark">
      {words}
    </span>
  ));
}

const useNotes = (at: string, hint: ReactNode) => {
  const { findings } = useMeasuring();
  return findings(at).length > 0 || hint ? (
    <>
      {hint}
      <Remarks at={at} />
    </>
  ) : undefined;
};

/** A length at its place in the drawing. */
export function Length({ at, label = nameOf(at), hint, ...p }: At<string>) {
  const { refusal } = useMeasuring();
  return (
    <InchesField
      {...p}
      name={at}
      label={label}
      unit={unitAt(at)}
      signed={isSigned(at)}
      error={refusal(at)}
      hint={useNotes(at, hint)}
    />
  );
}

/** A count, with a step up and down beside it for a thumb. Empty is null. */
export function Count({
  at,
  label = nameOf(at),
  hint,
  value,
  onChange,
  most = 999,
  ...p
}: At<number | null> & { most?: number }) {
  const { refusal } = useMeasuring();
  const step = (by: number) => onChange(Math.min(most, Math.max(0, (value ?? 0) + by)));
  return (
    <div className="zone-count">
      <WholeField
        {...p}
        name={at}
        label={label}
        value={value}
        onChange={onChange}
        error={refusal(at)}
        hint={useNotes(at, hint)}
      />
      <span className="zone-steps">
        <Button small aria-label={`${label}: one less`} isDisabled={!value} onPress={() => step(-1)}>
          −
        </Button>
        <Button small aria-label={`${label}: one more`} onPress={() => step(1)}>
          +
        </Button>
      </span>
    </div>
  );
}

/** A choice of few, with its name above it. */
export function Named({
  at,
  label = nameOf(at),
  children,
}: {
  at: string;
  label?: string;
  children: ReactNode;
}) {
  return (
    <div className="field">
      <span className="label" aria-hidden="true">
        {label}
      </span>
      {children}
      <Remarks at={at} />
    </div>
  );
}
