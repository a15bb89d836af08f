import { taken, usd } from "../support/fixtures.ts";
import type { Client } from "../support/harness.ts";

/** Packs of a material by how much each holds: `{ "8": 1175 }` is 8 ft for $11.75. */
type Packs = Record<string, number>;

const bookOf = async (who: Client): Promise<string> =>
  `/price-books/${taken(await who.get("/price-book")).id}`;

/** Boards of a cross section, by their lengths in feet. */
export async function addLumber(who: Client, code: string, section: string, packs: Packs): Promise<void> {
  const body = {
    code,
    name: `Boards ${section}`,
    unit: "lf",
    section,
    packs: Object.entries(packs).map(([size, cents]) => ({ size, price: usd(cents) })),
    wholePacks: false,
  };
  taken(await who.post(`${await bookOf(who)}/materials`, body));
}

/** Work that takes so much of one material a unit, `also` of a second, and half an hour of a carpenter. */
export async function addWork(
  who: Client,
  code: string,
  of: {
    component: string;
    action?: string;
    unit: string;
    material: string;
    perUnit: string;
    also?: [string, string];
  },
): Promise<void> {
  const { material, perUnit, also, ...what } = of;
  const materials = [[material, perUnit], ...(also ? [also] : [])];
  const body = {
    code,
    action: "replace",
    description: `Work ${code}`,
    note: "",
    ...what,
    recipe: {
      materials: materials.map(([taken, each]) => ({
        code: taken,
        inSalt: null,
        perUnit: each,
        wasteBp: 500,
      })),
      labor: [{ code: "carpenter", hoursPerUnit: "0.5", setupHours: "0" }],
      disposalUnitCents: "0",
      equipmentUnitCents: "0",
      laborCvBp: 2500,
    },
  };
  taken(await who.post(`${await bookOf(who)}/assemblies`, body));
}
