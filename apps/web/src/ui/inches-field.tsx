import { lengthWords } from "@ledgerboard/contracts/measure";
import { useState } from "react";
import type { FieldProps, Labels } from "./field.tsx";
import { type BareUnit, readInches, writeInches } from "./inches.ts";
import { TextField } from "./text-field.tsx";

const WRONG: Record<BareUnit, string> = {
  ft: `Type feet and inches: 12' 6 1/2", 12-6, or 12.5 for feet. Beside feet, inches stay under 12.`,
  in: `Type inches: 5 1/2 or 36, or feet and inches: 3' 6". Beside feet, inches stay under 12.`,
};

interface Props extends FieldProps<string>, Labels {
  /** What a bare number stands for. */
  unit: BareUnit;
  /** The place may lie on the other side of zero. */
  signed?: boolean;
}

/**
 * A length in feet and inches. The text stays the person's own: what it is read as stands below from the first key on,
 * and once the field is left it is written the way a tape shows it.
 */
export function InchesField({ unit, signed = false, hint, error, ...p }: Props) {
  const [left, setLeft] = useState(true);
  // The line below stays when the field is left: were it to go, what is pressed next would move from under the finger.
  const [typed, setTyped] = useState(false);
  const inches = readInches(p.value, unit, signed);
  const written = inches === null ? p.value : writeInches(inches, unit);
  const unread = inches === null && p.value.trim() !== "";
  return (
    <TextField
      {...p}
      inputMode="text"
      autoComplete="off"
      suffix={unit}
      error={unread && left ? WRONG[unit] : error}
      hint={
        inches !== null && (typed || written !== p.value.trim()) ? (
          <>
            = {inches < 0 ? "−" : ""}
            {lengthWords(Math.abs(inches))} {hint}
          </>
        ) : (
          hint
        )
      }
      onChange={(text) => {
        setLeft(false);
        setTyped(true);
        p.onChange(text);
      }}
      onBlur={() => {
        setLeft(true);
        if (written !== p.value) p.onChange(written);
      }}
    />
  );
}
