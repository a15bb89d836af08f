/** Printed with every rule: no table of state and federal law covers counties, cities and licences. */
export const CHECK_LOCAL_LAW = "Check local law." as const;

/** Whole cents, zero or more, or a RangeError that names the amount. */
export function requireCents(cents: number, name: string): number {
  if (!Number.isSafeInteger(cents) || cents < 0) {
    throw new RangeError(`${name} must be whole cents, zero or more, not ${cents}.`);
  }
  return cents;
}
