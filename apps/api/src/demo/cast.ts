import type { Role } from "@ledgerboard/contracts";
import type { LumberGroup } from "@ledgerboard/contracts/geometry";
import { type Edition, OPENED_DAYS_AGO } from "./books.ts";
import type { Habit } from "./findings.ts";

/** Who works in a company of the demo. All people, numbers and lines on paper are invented. */
interface CrewSpec {
  name: string;
  size: number;
  skills: string[];
  base: [latitude: number, longitude: number];
  /** The first is the crew lead. */
  people: string[];
}

interface Person {
  name: string;
  /** Mail address before the @. */
  box: string;
  roles: Role[];
}

export interface Cast {
  seed: number;
  slug: string;
  name: string;
  prefix: string;
  state: string;
  timezone: string;
  phone: string;
  address: string;
  licenceLine: string;
  insuranceLine: string;
  depositShareBp: number;
  quoteValidDays: number;
  /** What the company makes of the starting price book. */
  price: { overheadBp: number; marginBp: number; materialTaxBp: number };
  /** Its price books, oldest first; the first is as old as the company. */
  books: Edition[];
  lumber: LumberGroup;
  areas: string[];
  /** Which pairings of names its customers have. */
  rounds: number[];
  owner: Person;
  sales: (Person & { habit: Habit })[];
  /** The first is the senior. */
  estimators: Person[];
  scheduler: Person;
  crews: CrewSpec[];
}

/** Sees what he hopes for: misses damage, and hours run past what he writes down. */
const OPTIMIST: Habit = { overscopes: 0.03, underscopes: 0.14, misses: 0.4, miscounts: 0.3, optimism: 0.22 };
const EVEN: Habit = { overscopes: 0.08, underscopes: 0.06, misses: 0.2, miscounts: 0.32, optimism: 0.03 };
/** Writes new where old would do. */
const CAUTIOUS: Habit = {
  overscopes: 0.26,
  underscopes: 0.02,
  misses: 0.12,
  miscounts: 0.25,
  optimism: -0.05,
};

const crew = (name: string, skills: string[], base: CrewSpec["base"], people: string[]): CrewSpec => ({
  name,
  size: people.length,
  skills,
  base,
  people,
});

export const HERON_POINT: Cast = {
  seed: 20_417,
  slug: "heron-point",
  name: "Heron Point Carpentry",
  prefix: "HP",
  state: "MD",
  timezone: "America/New_York",
  phone: "410-555-0100",
  address: "14 Oyster Shell Yard\nAnnapolis, MD 21401",
  licenceLine: "Maryland home improvement licence 00-DEMO-00 (invented)",
  insuranceLine: "Liability insurance on file, policy DEMO-1 (invented)",
  depositShareBp: 3333,
  quoteValidDays: 30,
  price: { overheadBp: 1500, marginBp: 3000, materialTaxBp: 600 },
  books: [
    { daysAgo: OPENED_DAYS_AGO, percent: { lumber: 90, other: 93, labor: 92 } },
    { daysAgo: 425, percent: { lumber: 96, other: 97, labor: 96 } },
    { daysAgo: 30, percent: { lumber: 100, other: 100, labor: 100 } },
    { daysAgo: null, percent: { lumber: 100, other: 100, labor: 100 }, dearer: { "2x": 107, "4x": 104 } },
  ],
  lumber: "southern_pine",
  areas: ["410", "443"],
  rounds: [0, 1],
  owner: { name: "Marguerite Oyelowo-Pratt", box: "owner", roles: ["owner"] },
  sales: [
    { name: "Dashiell Kovacsik", box: "sales", roles: ["sales"], habit: OPTIMIST },
    { name: "Priyanka Lindahl", box: "priyanka", roles: ["sales"], habit: EVEN },
    { name: "Tomas Beauregard-Ito", box: "tomas", roles: ["sales"], habit: CAUTIOUS },
  ],
  estimators: [
    { name: "Henrik Osei-Larsen", box: "estimator", roles: ["estimator"] },
    { name: "Loretta Vantongeren", box: "loretta", roles: ["estimator", "sales"] },
  ],
  scheduler: { name: "Amparo Whitlock", box: "scheduler", roles: ["scheduler"] },
  crews: [
    crew(
      "Alder",
      ["rails", "stairs"],
      [38.99, -76.55],
      ["Bartek Sorrel", "Inez Calderwood", "Malik Fenwright", "Jun Abara"],
    ),
    crew("Birch", ["decking"], [39.28, -76.7], ["Lucinda Grove-Okafor", "Pavel Moss", "Terrence Illescas"]),
    crew("Cedar", ["stairs", "small repairs"], [39.1, -76.56], ["Halima Strand", "Otis Ferncliff"]),
    crew(
      "Dogwood",
      ["framing", "ledgers"],
      [39.06, -76.63],
      ["Casimiro Blythe", "Anneke Tolliver", "Rashad Pinewell"],
    ),
    crew("Elm", ["finishing", "skirting"], [39.2, -76.83], ["Mirela Stonecipher", "Duc Hathaway-Le"]),
    crew(
      "Hickory",
      ["framing", "beams", "shoring"],
      [39.35, -76.6],
      ["Solomon Wrenfield", "Graciela Dunmore", "Kofi Ambler", "Wanda Yazzie-Cole", "Emil Rosedahl"],
    ),
    crew("Juniper", ["rails", "porches"], [39.01, -76.69], ["Yesenia Colebrook", "Arvid Nwosu"]),
    crew(
      "Locust",
      ["docks", "salt-water hardware"],
      [38.95, -76.5],
      ["Ephraim Tidewell", "Catalina Brandywyne", "Soren Achebe-Hill"],
    ),
    crew("Maple", ["porches", "decking"], [39.16, -76.62], ["Delphine Marchbanks", "Ignacio Thorne"]),
  ],
};

export const TWO_RIDGE: Cast = {
  seed: 60_113,
  slug: "two-ridge",
  name: "Two Ridge Porchworks",
  prefix: "TR",
  state: "CA",
  timezone: "America/Los_Angeles",
  phone: "510-555-0100",
  address: "220 Manzanita Terrace, Unit 3\nOakland, CA 94611",
  licenceLine: "California contractor licence 000000 (invented)",
  insuranceLine: "Liability insurance on file, policy DEMO-2 (invented)",
  depositShareBp: 1000,
  quoteValidDays: 21,
  price: { overheadBp: 1700, marginBp: 3200, materialTaxBp: 975 },
  books: [{ daysAgo: OPENED_DAYS_AGO, percent: { lumber: 112, other: 108, labor: 112 } }],
  lumber: "redwood_cedar",
  areas: ["510", "925"],
  rounds: [2],
  owner: { name: "Rosamund Achterfield", box: "owner", roles: ["owner", "estimator"] },
  sales: [{ name: "Joaquin Bellweather-Sato", box: "sales", roles: ["sales"], habit: EVEN }],
  estimators: [{ name: "Nkechi Vandermolen", box: "estimator", roles: ["estimator"] }],
  scheduler: { name: "Fumiko Darlington", box: "scheduler", roles: ["scheduler"] },
  crews: [
    crew("Manzanita", ["porches", "stairs"], [37.83, -122.23], ["Leopold Arroyave", "Tamsin Kealoha"]),
    crew(
      "Bay Laurel",
      ["framing", "decking"],
      [37.92, -122.31],
      ["Oksana Ridgeley", "Deshawn Calloway-Ruiz", "Per Halvard"],
    ),
  ],
};
