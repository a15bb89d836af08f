import { createContext, use } from "react";
import type { TypedGeometry } from "./typed.ts";

export interface Measuring {
  typed: TypedGeometry;
  /** Changes parts of the drawing; what is not named stays. */
  set: (change: Partial<TypedGeometry>) => void;
  /** What the service refused at a field. */
  refusal: (path: string) => string | undefined;
  /** What the takeoff finds at a field or, for a part, at the part itself. */
  findings: (path: string) => string[];
  /** How many there are at a part and within it. */
  remarksIn: (path: string) => number;
}

export const MeasuringContext = createContext<Measuring | null>(null);

/** The drawing that is being measured. */
export function useMeasuring(): Measuring {
  const context = use(MeasuringContext);
  if (!context) throw new Error("This is part of the measuring page.");
  return context;
}
