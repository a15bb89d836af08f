import type { Output, priceBook } from "@ledgerboard/contracts";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import {
  assemblyOf,
  companyWithStarter,
  GATE_WORK,
  materialOf,
  POST_SLEEVE,
  rateOf,
  readBook,
  usd,
} from "./price-book.fixture.ts";

type List = "materials" | "labor_rates" | "assemblies";
type Outcome = Output<typeof priceBook.importPrices>;
const LISTS: List[] = ["materials", "labor_rates", "assemblies"];

let h: Harness;
let c: TestCompany;
let bookId: string;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
});
afterAll(() => h.close());
const company = async () => {
  c = await companyWithStarter(h);
  bookId = (await readBook(c.owner)).id;
};

const exported = async (list: List): Promise<string> => {
  const answer = await c.sales.get(`/price-books/${bookId}/export`, { list });
  if (answer.status !== 200) throw new Error(answer.text);
  return answer.body.csv as string;
};
const read = async (list: List, csv: string, dryRun = false): Promise<Outcome> => {
  const answer = await c.owner.post(`/price-books/${bookId}/import`, { list, csv, dryRun });
  if (answer.status !== 200) throw new Error(answer.text);
  return answer.body as Outcome;
};
/** Faults as "line column: words", short enough to compare. */
const faultsOf = (outcome: Outcome): string[] =>
  outcome.faults.map(({ line, column, words }) => `${line} ${column}: ${words}`);
const rows = (...lines: string[]) => `${lines.join("\r\n")}\r\n`;
const MATERIAL = "code,name,unit,section,whole_packs,pack_size,pack_price,retired";
const RATE = "code,name,hourly,burden_percent";
const ASSEMBLY =
  "code,component,action,description,unit,note,labor_variation_percent,retired,part,part_code,in_salt,per_unit,waste_percent,hours_per_unit,setup_hours,cost";

describe("a file that is written and read back", () => {
  beforeAll(async () => {
    await company();
    const owner = c.owner;
    // Whatever a person may type has to come through.
    const odd = [
      {
        ...POST_SLEEVE,
        code: "-ODD",
        name: '=HYPERLINK("x") 2"" screw, "best"; ½ in',
        section: "+1",
        packs: [],
      },
      { ...POST_SLEEVE, code: "ODD-2", name: "'=kept", packs: [{ size: "0.0001", price: usd(0) }] },
      { ...POST_SLEEVE, code: "ODD-3", name: "@sum ''quoted''", unit: "lb" },
    ];
    for (const body of odd)
      expect((await owner.post(`/price-books/${bookId}/materials`, body)).status).toBe(201);
    const bare = { materials: [], labor: [], disposalUnitCents: "0", equipmentUnitCents: "0", laborCvBp: 0 };
    const work = [
      {
        ...GATE_WORK,
        code: "ODD-1",
        description: "-drop, then lift",
        note: 'First line\nsecond; "third"\r\n\r\n=last',
      },
      { ...GATE_WORK, code: "ODD-2", note: "", recipe: bare },
      {
        ...GATE_WORK,
        code: "ODD-3",
        recipe: { ...GATE_WORK.recipe, disposalUnitCents: "0.0001", equipmentUnitCents: "4999999.9999" },
      },
    ];
    for (const body of work)
      expect((await owner.post(`/price-books/${bookId}/assemblies`, body)).status).toBe(201);
    const retired = assemblyOf(await readBook(owner), "DECK-SAND");
    await owner.patch(`/assemblies/${retired.id}`, { retired: true }, 1);
    const finisher = { name: "=Finisher", hourly: usd(3001), burdenBp: 12_345 };
    await owner.patch(`/labor-rates/${rateOf(await readBook(owner), "finisher").id}`, finisher, 1);
  });

  it.each(LISTS)("says the same of all %s", async (list) => {
    const book = await readBook(c.owner);
    const csv = await exported(list);
    const count = { materials: book.materials, labor_rates: book.laborRates, assemblies: book.assemblies }[
      list
    ].length;
    const same = { applied: false, added: 0, changed: 0, unchanged: count, changes: [], faults: [] };
    expect(await read(list, csv, true)).toMatchObject(same);
    expect(await read(list, csv)).toMatchObject({ ...same, applied: true });
    expect(await readBook(c.owner)).toEqual(book);
  });

  it.each(LISTS)("may have gone through a spreadsheet of a country with decimal commas: %s", async (list) => {
    const csv = await exported(list);
    // Semicolons between cells, commas in numbers, a byte order mark, other line ends, columns in another order.
    const cells = parseCsv(csv).map((line) => [...line].reverse());
    const number = /^\d+\.\d+$/;
    const european = cells.map((line) =>
      line
        .map((cell) => (number.test(cell) ? cell.replace(".", ",") : cell))
        .map((cell) => `"${cell.replaceAll('"', '""')}"`)
        .join(";"),
    );
    const outcome = await read(list, `\ufeff${european.join("\n")}\n\n`, true);
    expect(outcome).toMatchObject({ added: 0, changed: 0, changes: [], faults: [] });
    expect(outcome.unchanged).toBeGreaterThan(3);
    const tabs = cells.map((line) => line.map((cell) => `"${cell.replaceAll('"', '""')}"`).join("\t"));
    expect(await read(list, tabs.join("\r"), true)).toMatchObject({ changed: 0, faults: [] });
  });

  it("runs no formula in a spreadsheet", async () => {
    for (const list of LISTS) {
      const cells = parseCsv(await exported(list)).flat();
      expect([list, cells.filter((cell) => /^[=+\-@\t\r]/.test(cell))]).toEqual([list, []]);
    }
    const materials = parseCsv(await exported("materials"));
    expect(materials.find((line) => line[0] === "'-ODD")?.slice(1, 4)).toEqual([
      `'=HYPERLINK("x") 2"" screw, "best"; ½ in`,
      "each",
      "'+1",
    ]);
    expect(materials.find((line) => line[0] === "ODD-2")?.[1]).toBe("''=kept");
  });

  it("is CSV as RFC 4180 has it, with a name that says what and since when", async () => {
    const answer = await c.sales.get(`/price-books/${bookId}/export`, { list: "labor_rates" });
    expect(answer.body.fileName).toBe("labor-rates-2026-01-05.csv");
    expect(answer.body.csv).toBe(
      rows(
        RATE,
        "carpenter,Carpenter,34,32",
        "finisher,'=Finisher,30.01,123.45",
        "helper,Helper,22,30",
        "lead-carpenter,Lead carpenter,42,32",
      ),
    );
    const materials = parseCsv(await exported("materials"));
    expect(materials.every((line) => line.length === 8)).toBe(true);
    expect(materials.filter((line) => line[0] === "PT-2X8").map((line) => [line[5], line[6]])).toEqual([
      ["8", "13.6"],
      ["10", "17.17"],
      ["12", "20.81"],
      ["14", "24.75"],
      ["16", "28.83"],
      ["20", "38.08"],
    ]);
    expect((await c.lead_hand.get(`/price-books/${bookId}/export`, { list: "materials" })).status).toBe(403);
    expect((await c.owner.get(`/price-books/${bookId}/export`, { list: "terms" })).status).toBe(422);
  });
});

/** A reader of our own, so that the file is not judged by what wrote it. */
function parseCsv(text: string): string[][] {
  const lines: string[][] = [[]];
  // A cell, in quotes or not, and what ends it.
  for (const [, quoted, bare = "", end] of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/g)) {
    lines.at(-1)?.push(quoted?.replaceAll('""', '"') ?? bare);
    if (end !== ",") lines.push([]);
  }
  const last = lines.pop();
  if (last?.length !== 0) throw new Error("The file does not end with a line end.");
  return lines;
}

describe("a file that changes something", () => {
  beforeAll(company);

  it("says in a dry run what it would do, and then does it; what it does not name stays", async () => {
    const before = await readBook(c.owner);
    const csv = rows(
      MATERIAL,
      'PT-54X6,"Deck board 5/4x6, treated",lf,5/4x6,no,8,14.40,no',
      "PT-54X6,,,,,12,22.00,",
      "SLEEVE-44,Post sleeve,each,,yes,1,31.50,no",
      'LATTICE,"Lattice panel, treated",sqft,,no,32,35.20,no',
    );
    const board = materialOf(before, "PT-54X6");
    const packs = board.packs.map(({ size, price }) => `${size} for $${price.cents / 100}`).join(", ");
    const expected = {
      rows: 4,
      added: 1,
      changed: 1,
      unchanged: 1,
      faults: [],
      changes: [
        {
          code: "SLEEVE-44",
          what: "added",
          fields: [
            { field: "name", before: "", after: "Post sleeve" },
            { field: "unit", before: "", after: "each" },
            { field: "whole_packs", before: "", after: "yes" },
            { field: "packs", before: "", after: "1 for $31.5" },
            { field: "retired", before: "", after: "no" },
          ],
        },
        {
          code: "PT-54X6",
          what: "changed",
          fields: [{ field: "packs", before: packs, after: "8 for $14.4, 12 for $22" }],
        },
      ],
    };
    expect(await read("materials", csv, true)).toEqual({ ...expected, applied: false });
    expect(await readBook(c.owner)).toEqual(before);
    expect(await read("materials", csv)).toEqual({ ...expected, applied: true });

    const after = await readBook(c.owner);
    expect(materialOf(after, "PT-54X6")).toEqual({
      ...board,
      packs: [
        { size: "8", price: usd(1440) },
        { size: "12", price: usd(2200) },
      ],
      version: 2,
    });
    expect(materialOf(after, "SLEEVE-44")).toMatchObject({ wholePacks: true, version: 1 });
    expect(materialOf(after, "LATTICE")).toEqual(materialOf(before, "LATTICE"));
    const rest = (book: typeof after) =>
      book.materials.filter((m) => !["PT-54X6", "SLEEVE-44"].includes(m.code));
    expect(rest(after)).toEqual(rest(before));
    const { rows: audit } = await h.admin.query(
      "SELECT words FROM audit_entries WHERE company_id = $1 AND entity = 'price_book' ORDER BY id DESC LIMIT 2",
      [c.companyId],
    );
    expect(audit.map((a) => a.words)).toEqual([
      "Price book: materials read from a file, 1 added, 1 changed.",
      // A dry run leaves no trace.
      "A starting price book was laid out. Replace its prices and hours with your own.",
    ]);
  });

  it("happens once however often it is sent", async () => {
    const csv = rows(RATE, "mason,Mason,39.00,31", "helper,Helper,23.5,30");
    const body = { list: "labor_rates", csv, dryRun: false };
    const key = "import-rates-00000001";
    const first = await c.owner.post(`/price-books/${bookId}/import`, body, { key });
    expect(first.body).toMatchObject({ applied: true, added: 1, changed: 1 });
    expect((await c.owner.post(`/price-books/${bookId}/import`, body, { key })).body).toEqual(first.body);
    const book = await readBook(c.owner);
    expect(rateOf(book, "helper")).toMatchObject({ hourly: usd(2350), version: 2 });
    expect(rateOf(book, "mason")).toMatchObject({ hourly: usd(3900), burdenBp: 3100, version: 1 });
    expect((await read("labor_rates", csv, true)).unchanged).toBe(2);
  });

  it("gives an assembly its whole recipe, part by part, in any order of its rows", async () => {
    const csv = rows(
      ASSEMBLY,
      "GATE-MEND,gate,repair,Rehang a gate,each,,30,no,labor,carpenter,,,,0.75,0.25,",
      "DECK-OPEN,decking,open_up,Lift boards,sqft,Ours,55.5,no,material,SCREW-DECK,SCREW-DECK-SS,2,7.5,,,",
      "GATE-MEND,,,,,,,,material,PT-2X4,,6.5,,,,",
      "GATE-MEND,,,,,,,,disposal,,,,,,,1.205",
    );
    const outcome = await read("assemblies", csv);
    expect(outcome).toMatchObject({ applied: true, rows: 4, added: 1, changed: 1, unchanged: 0, faults: [] });
    expect(outcome.changes[1]).toEqual({
      code: "DECK-OPEN",
      what: "changed",
      fields: [
        {
          field: "description",
          before: "Lift boards to look underneath and lay them again",
          after: "Lift boards",
        },
        { field: "note", before: expect.stringContaining("Placeholder"), after: "Ours" },
        { field: "labor_variation_percent", before: "50", after: "55.5" },
        {
          field: "material SCREW-DECK",
          before: "1.6 with 5 % waste, near salt SCREW-DECK-SS",
          after: "2 with 7.5 % waste, near salt SCREW-DECK-SS",
        },
        { field: "labor carpenter", before: "0.05 hours, 0 to set up", after: "" },
      ],
    });
    const book = await readBook(c.owner);
    expect(assemblyOf(book, "GATE-MEND")).toMatchObject({
      component: "gate",
      note: "",
      recipe: {
        materials: [{ code: "PT-2X4", inSalt: null, perUnit: "6.5", wasteBp: 0 }],
        labor: [{ code: "carpenter", hoursPerUnit: "0.75", setupHours: "0.25" }],
        disposalUnitCents: "120.5",
        equipmentUnitCents: "0",
        laborCvBp: 3000,
      },
    });
    expect(assemblyOf(book, "DECK-OPEN").recipe.labor).toEqual([]);
  });
});

describe("a file with faults", () => {
  beforeAll(company);

  it.each<[string, List, string, string[]]>([
    [
      "columns missing, unknown and twice",
      "labor_rates",
      rows("code,name,name,wage", "carpenter,Carpenter,Carpenter,39"),
      [
        "1 name: The column name is there twice.",
        "1 wage: There is no column wage here; the columns are code, name, hourly, burden_percent.",
        "1 hourly: The column hourly is missing; export the list to see its form.",
        "1 burden_percent: The column burden_percent is missing; export the list to see its form.",
      ],
    ],
    [
      "numbers that are none",
      "labor_rates",
      rows(
        RATE,
        "carpenter,Carpenter,thirty,32",
        'helper,Helper,"1,200",30',
        "mason,Mason,-3,",
        "roofer,Roofer,12.345,1e3",
      ),
      [
        "2 hourly: Not a number; write it like 1200.50, without marks for thousands.",
        "3 hourly: Not a number; write it like 1200.50, without marks for thousands.",
        "4 hourly: Not below 0.",
        "4 burden_percent: A number is missing here.",
        "5 hourly: At most 2 decimals.",
        "5 burden_percent: Not a number; write it like 1200.50, without marks for thousands.",
      ],
    ],
    [
      "marks for thousands where the comma is the decimal mark",
      "labor_rates",
      rows("code;name;hourly;burden_percent", "carpenter;Carpenter;1.200;32", "helper;Helper;22,5;30"),
      ["2 hourly: Write it without a mark for thousands and with a decimal comma."],
    ],
    [
      "codes that are missing, twice, or no codes",
      "labor_rates",
      rows(
        RATE,
        ",Nobody,30,30",
        "mason,Mason,39,31",
        "Mason Two,Mason,39,31",
        "mason,Mason,40,31",
        "free,Free,0,0",
      ),
      [
        "2 code: The code is missing.",
        "4 code: Small letters, digits and hyphens.",
        "5 code: mason is on line 3 already.",
        "6 hourly: More than $0 and at most $1,000 an hour.",
      ],
    ],
    [
      "mixed units, packs twice, negative prices and materials nobody can store",
      "materials",
      rows(
        MATERIAL,
        "NEW-1,New,lf,2x4,no,8,6.80,no",
        "NEW-1,New,each,2x4,no,10,8.50,no",
        "NEW-1,New,lf,2x4,no,8.0,6.90,no",
        "NEW-2,New,hour,,no,0,1,no",
        "NEW-3,,each,,perhaps,1,-4,no",
        "NEW-4,New,each,,no,1,,no",
      ),
      [
        "3 unit: NEW-1 has lf on line 2; both must say the same.",
        "4 pack_size: NEW-1 has a pack of 8 twice.",
        "5 unit: Choose one of each, lf, sqft, gal, lb.",
        "5 pack_size: More than 0.",
        "6 whole_packs: Write yes or no.",
        "6 pack_price: Not below 0.",
        "7 pack_price: A number is missing here.",
      ],
    ],
    [
      "a material retired that is still taken",
      "materials",
      rows(MATERIAL, "HANDRAIL,Handrail,lf,handrail,no,8,33.60,no", "CAP-2X6,Cap,lf,2x6,no,8,26.40,yes"),
      ["3 retired: GATE-DUMMY still takes it; change or retire those first."],
    ],
    [
      "codes the book does not have and parts that do not belong",
      "assemblies",
      rows(
        ASSEMBLY,
        "NEW-A,gate,repair,One,each,,20,no,material,NO-SUCH,NO-SALT,1,,,,",
        "NEW-A,gate,repair,One,each,,20,no,labor,plumber,,,,1,0,",
        "NEW-A,gate,repair,One,each,,20,no,material,PT-2X4,,1,,,,",
        "NEW-A,gate,repair,One,each,,20,no,material,PT-2X4,,2,,,,",
      ),
      [
        "2 part_code: The price book has no material NO-SUCH; choose another or add it first.",
        "2 in_salt: The price book has no material NO-SALT; choose another or add it first.",
        "3 part_code: There is no labor rate plumber; choose one of carpenter, finisher, helper and lead-carpenter.",
        "5 part_code: PT-2X4 is there twice; add the two up.",
      ],
    ],
    [
      "parts nobody knows or of another kind, and words that contradict each other",
      "assemblies",
      rows(
        ASSEMBLY,
        "NEW-A,gate,repair,One,each,,20,no,permit,,,,,,,5",
        "NEW-B,roof,mend,,each,,300,no,labor,carpenter,,,,1,0,",
        "NEW-C,gate,repair,Three,each,,20,no,labor,carpenter,,1,,1,,",
        "NEW-C,gate,replace,Three,each,,20,no,disposal,,,,,,,1",
        "NEW-C,,,,,,,,disposal,,,,,,,2",
        "NEW-D,gate,repair,Four,each,,20,no,,,,1,,,,",
        "NEW-E,gate,repair,Five,each,,20,no,equipment,,,,,,,50000.01",
      ),
      [
        "2 part: Choose one of material, labor, disposal, equipment.",
        "3 component: Choose one of decking, joist, rim_joist, band, beam, post, footing, ledger, joist_hanger, guard_post, rail_cap, rail, baluster, gate, stringer, tread, riser, skirting, lattice, flashing, fastener, finish.",
        "3 action: Choose one of keep, clean, finish, refasten, treat, reinforce, sister, repair, replace, add, remove, open_up.",
        "3 description: Enter something here.",
        "3 labor_variation_percent: At most 200 %.",
        "4 per_unit: Leave this blank for labor.",
        "5 action: NEW-C has repair on line 4; both must say the same.",
        "6 part: NEW-C has disposal twice; add the two up.",
        "7 per_unit: Say in the column part what this belongs to.",
        "8 cost: At most $50,000 a unit.",
      ],
    ],
    [
      "a quotation mark that is never closed",
      "labor_rates",
      rows(RATE, "carpenter,Carpenter,39,32", 'helper,"Helper,22,30'),
      ["3 : A cell begins with a quotation mark that is never closed."],
    ],
    [
      "a quotation mark inside a cell",
      "labor_rates",
      rows(RATE, 'carpenter,Carpenter 2" up,39,32'),
      [
        '2 : A quotation mark stands inside a cell; put the cell in quotation marks and write it twice: "2"" screw".',
      ],
    ],
    [
      "lines that are too long or too short",
      "labor_rates",
      rows(RATE, "carpenter,Carpenter,39", "", "helper,Helper,22,30,more"),
      ["2 : This line has 3 cells instead of 4.", "4 : This line has 5 cells instead of 4."],
    ],
    [
      "nothing but blank lines",
      "labor_rates",
      "\r\n\r\n",
      ["1 code: The column code is missing; export the list to see its form."],
    ],
  ])("is told of %s, and changes nothing", async (what, list, csv, words) => {
    if (what.startsWith("a material retired")) {
      const book = await readBook(c.owner);
      for (const a of book.assemblies.filter((x) => x.recipe.materials.some((m) => m.code === "CAP-2X6")))
        await c.owner.patch(`/assemblies/${a.id}`, { retired: true }, a.version);
      const recipe = {
        ...GATE_WORK.recipe,
        materials: [{ code: "CAP-2X6", inSalt: null, perUnit: "1", wasteBp: 0 }],
      };
      await c.owner.post(`/price-books/${bookId}/assemblies`, { ...GATE_WORK, code: "GATE-DUMMY", recipe });
    }
    const before = await readBook(c.owner);
    for (const dryRun of [true, false]) {
      const outcome = await read(list, csv, dryRun);
      expect(outcome.applied).toBe(false);
      const told = faultsOf(outcome);
      expect(what === "nothing but blank lines" ? told.slice(0, 1) : told).toEqual(words);
    }
    expect(await readBook(c.owner)).toEqual(before);
  });

  it("tells the line of a cell after cells that hold several lines", async () => {
    const csv = rows(
      ASSEMBLY,
      'NEW-A,gate,repair,One,each,"First\r\nsecond\nthird",20,no,labor,carpenter,,,,1,0,',
      "NEW-B,gate,repair,Two,each,,20,no,labor,carpenter,,,,many,0,",
    );
    const outcome = await read("assemblies", csv, true);
    expect(outcome.faults.map(({ line, column }) => [line, column])).toEqual([[5, "hours_per_unit"]]);
    // Also where the file cannot be read on.
    expect(faultsOf(await read("assemblies", csv.replace("Two", '2" by two'), true))).toEqual([
      expect.stringMatching(/^5 : A quotation mark stands inside a cell;/),
    ]);
  });

  it("is told where a unit would be priced beyond all reason", async () => {
    const patch = { marginBp: 9000, overheadBp: 20_000 };
    const { version } = await readBook(c.owner);
    expect((await c.owner.patch(`/price-books/${bookId}`, patch, version)).status).toBe(200);
    const work = rows(
      ASSEMBLY,
      "NEW-A,gate,repair,One,each,,20,no,equipment,,,,,,,50000",
      "NEW-A,,,,,,,,labor,carpenter,,,,1000,1000,",
      "NEW-A,,,,,,,,material,HANDRAIL,,9999999,,,,",
    );
    expect(faultsOf(await read("assemblies", work))).toEqual([
      "2 code: NEW-A: One unit would come to more than $10,000,000; check costs, hours and shares.",
    ]);
    const dear = rows(MATERIAL, "LATTICE,Lattice,sqft,,no,0.0001,10000000,no");
    expect(faultsOf(await read("materials", dear))).toEqual([
      expect.stringMatching(/^2 pack_price: LATTICE-\w+: One unit would come to more than/),
    ]);
    expect((await readBook(c.owner)).assemblies.some((a) => a.code === "NEW-A")).toBe(false);
  });

  it("names a hundred faults and says how many more there are", async () => {
    const csv = rows(RATE, ...Array.from({ length: 250 }, (_, i) => `rate-${i},Rate,none,30`));
    const { faults } = await read("labor_rates", csv);
    expect(faults.length).toBe(101);
    expect(faults[100]).toEqual({
      line: 102,
      column: "",
      words: "There are 150 more; put these right first.",
    });
  });

  it("holds five thousand rows and no more", async () => {
    const many = (n: number) => rows(RATE, ...Array.from({ length: n }, (_, i) => `r${i},Rate,30,30`));
    expect(await read("labor_rates", many(5000), true)).toMatchObject({
      rows: 5000,
      added: 5000,
      faults: [],
    });
    expect(faultsOf(await read("labor_rates", many(5001), true))).toEqual([
      "5002 : A file may hold at most 5000 rows; this one has 5001. Split it.",
    ]);
  });

  it.each([
    ["empty", ""],
    ["too long", "x".repeat(200_001)],
    ["no text at all", "code,name\u0000"],
    ["half a character", "code,\ud83d"],
  ])("is refused when it is %s", async (_what, csv) => {
    const body = { list: "labor_rates", csv, dryRun: false };
    const refused = await c.owner.post(`/price-books/${bookId}/import`, body);
    expect([refused.status, refused.body.errors[0].path]).toEqual([422, "body.csv"]);
  });
});
