import { describe, expect, it } from "vitest";
import { ApiProblem } from "../../api/problem.ts";
import { rowFaults } from "./row-faults.ts";

const problem = (...paths: string[]) =>
  new ApiProblem({
    type: "/problems/invalid-input",
    title: "Some fields need another look.",
    status: 422,
    errors: paths.map((path) => ({ path, message: `about ${path}` })),
  });

describe("rowFaults", () => {
  it("finds the row on screen, deeper paths at their field", () => {
    const refused = problem("body.packs.1.size", "body.packs.0.price.cents", "body.packs", "body.name");
    expect(rowFaults(refused, "packs", [0, 2])).toEqual({
      "2.size": "about body.packs.1.size",
      "0.price": "about body.packs.0.price.cents",
    });
  });
  it("knows lists within a recipe, and nothing of other failures", () => {
    expect(rowFaults(problem("body.recipe.labor.0.code"), "recipe.labor", [3])).toEqual({
      "3.code": "about body.recipe.labor.0.code",
    });
    expect(rowFaults(problem("body.recipe.labor.0.code"), "recipe.materials", [3])).toEqual({});
    expect(rowFaults(new Error("no connection"), "packs", [0])).toEqual({});
  });
});
