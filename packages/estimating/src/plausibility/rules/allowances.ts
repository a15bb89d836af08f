import { words } from "@ledgerboard/contracts/vocabulary";
import { allowanceFindings } from "../../pricing/allowance.ts";
import { percent } from "../../pricing/percent.ts";
import { PRACTICE, type Remark, type Rule } from "../rule.ts";
import {
  amountOf,
  amountText,
  amountWords,
  existing,
  type LineView,
  numberWords,
  toNumber,
} from "../view.ts";

const whole = (line: LineView) =>
  `${amountWords(line.amount, line.unit, line.component)} on ${line.zone.name}`;

export const concealedWithoutAllowance: Rule = {
  id: "concealed_without_allowance",
  title: "Concealed work priced as if it were seen",
  severity: "warning",
  source: PRACTICE,
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] =>
      line.evidence !== "concealed" ||
      line.allowance ||
      line.by !== "us" ||
      ["keep", "open_up"].includes(line.action)
        ? []
        : [
            {
              line,
              field: "allowance",
              numbers: { quantity: amountText(line.amount), unit: line.unit },
              words: `${whole(line)} cannot be seen until it is open, yet the quantity is fixed. Carry an allowance with an agreed unit price and a cap.`,
            },
          ],
    ),
};

export const openUpWithoutAllowance: Rule = {
  id: "open_up_without_allowance",
  title: "Opening up with nothing set aside for what is found",
  severity: "warning",
  source: PRACTICE,
  check: ({ zones }) =>
    zones.flatMap((zone) => {
      if (zone.lines.some(({ allowance }) => allowance !== null)) return [];
      return zone.lines
        .filter(({ action, by }) => action === "open_up" && by === "us")
        .map(
          (line): Remark => ({
            line,
            field: "allowance",
            numbers: { quantity: amountText(line.amount), unit: line.unit },
            words: `We open ${whole(line)} to look, but nothing says what repair would cost if it is rotten. Add an allowance with a unit price.`,
          }),
        );
    }),
};

export const allowanceBounds: Rule = {
  id: "allowance_bounds",
  title: "An allowance that cannot be",
  severity: "blocking",
  source: "Arithmetic: least, likeliest and most in that order, a chance from 0% to 100%",
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] => {
      const { allowance } = line;
      if (!allowance) return [];
      return allowanceFindings(line.quantity, allowance)
        .filter(({ field }) => field !== "allowance.capQuantity")
        .map(({ field, words: fault }) => ({
          line,
          field,
          numbers: {
            chanceBp: String(allowance.chanceBp),
            low: allowance.lowQuantity,
            likely: line.quantity,
            high: allowance.highQuantity,
          },
          words: `${whole(line)}: ${fault}`,
        }));
    }),
};

export const allowanceWithoutCap: Rule = {
  id: "allowance_without_cap",
  title: "An allowance without a cap that means something",
  severity: "warning",
  source: PRACTICE,
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] => {
      const { allowance } = line;
      if (!allowance || line.by !== "us") return [];
      const [cap, high] = [amountOf(allowance.capQuantity), amountOf(allowance.highQuantity)];
      const place = {
        line,
        field: "allowance.capQuantity",
        numbers: { cap: allowance.capQuantity, likely: line.quantity, high: allowance.highQuantity },
      };
      if (cap === 0)
        return [
          {
            ...place,
            words: `${words(line.component)} found on ${line.zone.name} is charged without a cap. Say up to how much the customer agrees to pay before we ask again.`,
          },
        ];
      if (cap < line.amount)
        return [
          {
            ...place,
            severity: "note",
            words: `The cap on ${line.zone.name}, ${numberWords(toNumber(cap))}, is below the likeliest amount, ${numberWords(toNumber(line.amount))}: we would stop and ask more often than not.`,
          },
        ];
      if (cap > 2 * high)
        return [
          {
            ...place,
            severity: "note",
            words: `The cap on ${line.zone.name}, ${numberWords(toNumber(cap))}, is more than twice the most we expect, ${numberWords(toNumber(high))}: it protects nobody.`,
          },
        ];
      return [];
    }),
};

/** Above this chance the work is as good as sure. Own choice, no source. */
const NEAR_CERTAIN_BP = 8000;

export const allowanceNearCertain: Rule = {
  id: "allowance_near_certain",
  title: "An allowance for what is nearly sure",
  severity: "warning",
  source: PRACTICE,
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] =>
      !line.allowance || line.allowance.chanceBp <= NEAR_CERTAIN_BP || line.by !== "us"
        ? []
        : [
            {
              line,
              field: "allowance.chanceBp",
              numbers: { chanceBp: String(line.allowance.chanceBp) },
              words: `${whole(line)}: ${percent(line.allowance.chanceBp)} sure is not a surprise. Price it as work, not as an allowance.`,
            },
          ],
    ),
};

export const allowanceBeyondExisting: Rule = {
  id: "allowance_beyond_existing",
  title: "An allowance for more than exists",
  severity: "warning",
  source: "Arithmetic: what the drawing of the zone counts",
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] => {
      const there = existing(line.zone, line.component, line.unit);
      const high = line.allowance ? amountOf(line.allowance.highQuantity) : 0;
      if (there === null || line.action === "add" || high <= there) return [];
      return [
        {
          line,
          field: "allowance.highQuantity",
          numbers: { high: amountText(high), there: amountText(there) },
          words: `The allowance on ${line.zone.name} goes up to ${amountWords(high, line.unit, line.component)}; the drawing has only ${numberWords(toNumber(there))}.`,
        },
      ];
    }),
};
