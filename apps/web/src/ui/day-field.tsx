import { type FieldProps, type Labels, NativeField } from "./field.tsx";
import { longDay } from "./format.ts";

/** A calendar day, `YYYY-MM-DD`; "" while there is none. */
export function DayField({
  value,
  onChange,
  theirs,
  min,
  max,
  ...p
}: FieldProps<string> & Labels & { min?: string; max?: string }) {
  return (
    <NativeField {...p} theirs={theirs ? longDay(theirs) : theirs}>
      {(tie) => (
        <input
          {...tie}
          className="input"
          type="date"
          name={p.name}
          value={value}
          min={min ?? "1990-01-01"}
          max={max ?? "2099-12-31"}
          onChange={(event) => onChange(event.target.value)}
        />
      )}
    </NativeField>
  );
}

/** An instant at a place, entered as local day and time: value `YYYY-MM-DDTHH:MM`, "" while there is none. */
export function MomentField({ value, onChange, ...p }: FieldProps<string> & Labels) {
  return (
    <NativeField {...p} theirs={undefined}>
      {(tie) => (
        <input
          {...tie}
          className="input"
          type="datetime-local"
          step={900}
          name={p.name}
          value={value}
          onChange={(event) => onChange(event.target.value)}
        />
      )}
    </NativeField>
  );
}
