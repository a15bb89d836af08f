import { expect, it } from "vitest";
import { fieldOf, nest } from "./form.tsx";

it("finds the field a fault belongs to", () => {
  const names = ["customer.name", "amount", "members"];
  expect(fieldOf("body.customer.name", names)).toBe("customer.name");
  expect(fieldOf("body.amount.cents", names)).toBe("amount");
  expect(fieldOf("body.members.0.name", names)).toBe("members");
  expect(fieldOf("body.customer", names)).toBeUndefined();
  expect(fieldOf("body.amounts", names)).toBeUndefined();
});
it("makes the body out of the paths", () => {
  expect(nest({ title: "Stair", "customer.name": "Ines", "customer.phone": null })).toEqual({
    title: "Stair",
    customer: { name: "Ines", phone: null },
  });
});
