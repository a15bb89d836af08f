import { toDecimal } from "@ledgerboard/contracts/money";

/** Basis points as people read them: 650 is "6.5%". */
export const percent = (bp: number): string => `${toDecimal({ num: BigInt(bp), den: 100n }, 2)}%`;
